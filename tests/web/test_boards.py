"""The boards area as somebody at a screen meets it."""

from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from records.models import (
    Attachment,
    Board,
    BoardCheck,
    BoardDefect,
    Lamination,
    LedgerEntry,
    Lot,
)
from tests import factories
from tests.rules.test_files import picture
from tests.web.seen import queries_of, said, text_of

pytestmark = pytest.mark.django_db
BACKEND = "django.contrib.auth.backends.ModelBackend"
ROWS = 20


def page(name, *args):
    return reverse(f"boards:{name}", args=args)


class TestAdd:
    def given(self, lot, **kwargs):
        return {"lot": lot.pk, "count": "1", **kwargs}

    def test_one_board_leads_to_its_page(self, signed_in):
        lot = factories.LotFactory()
        given = self.given(lot, length_mm="2100", width_mm="190,5")
        answer = signed_in.post(page("add"), given, follow=True)
        assert answer.redirect_chain[-1][0] == page("board", "B0001")
        board = Board.objects.get()
        assert (board.length_mm, board.width_mm) == (2100, Decimal("190.5"))
        assert "Write B0001 on the board." in text_of(answer)

    def test_several_boards_lead_back_to_the_lot(self, signed_in):
        lot = factories.LotFactory()
        answer = signed_in.post(page("add"), self.given(lot, count="3"), follow=True)
        assert answer.redirect_chain[-1][0] == reverse("lots:lot", args=[lot.number])
        assert "Write B0001 to B0003 on the boards." in text_of(answer)

    def test_the_lot_is_chosen_where_it_is_named(self, signed_in):
        lot = factories.LotFactory()
        html = signed_in.get(f"{page('add')}?lot={lot.number}").content.decode()
        assert f'<option value="{lot.pk}" selected>' in html

    def test_a_rejected_lot_can_not_be_chosen(self, signed_in):
        lot = factories.LotFactory(state=Lot.State.REFUSED)
        answer = signed_in.post(page("add"), self.given(lot))
        assert answer.context["form"].errors["lot"]
        assert not Board.objects.exists()

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("count", "two"),
            ("count", "0"),
            ("count", "500"),
            ("length_mm", "21"),
            ("length_mm", "long"),
            ("width_mm", "-190"),
            ("thickness_mm", "12,125"),
            ("thickness_mm", "24.123456"),
            ("grade", "x" * 41),
        ],
    )
    def test_a_slip_gets_a_sentence_and_keeps_all(self, signed_in, field, typed):
        given = self.given(factories.LotFactory(), **{"grade": "prime", field: typed})
        answer = signed_in.post(page("add"), given)
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert typed in answer.content.decode()
        assert not LedgerEntry.objects.exists()


class TestInspect:
    @pytest.fixture
    def board(self, shop):
        return factories.BoardFactory(state=Board.State.WAITING)

    def given(self, **kwargs):
        facts = {
            "rings": "quarter",
            "accepted": "yes",
            "happened_at": timezone.localtime().strftime("%Y-%m-%dT%H:%M"),
            "defect_1_cut": "no",
        }
        return {**facts, **kwargs}

    def post(self, signed_in, board, query="", **kwargs):
        path = page("inspect", board.number) + query
        return signed_in.post(path, self.given(**kwargs), follow=True)

    def test_keeps_defects_decision_and_photo(self, signed_in, board):
        answer = self.post(
            signed_in,
            board,
            defect_1_kind="hard_knot",
            defect_1_place="300 mm from the root",
            defect_1_cut="yes",
            defect_3_kind="mineral_streak",
            note="Streak is sound.",
            photo=SimpleUploadedFile("face.jpg", picture()),
        )
        words = text_of(answer)
        assert f"Board {board.number} is accepted." in words
        assert "hard knot, 300 mm from the root: can be cut round" in words
        assert "mineral streak: stays in the wood" in words
        assert "quarter-sawn" in words
        assert Attachment.objects.get().board == board
        board.refresh_from_db()
        assert board.state == Board.State.USABLE

    def test_decay_in_an_accepted_board_is_refused_at_the_decision(
        self, signed_in, board
    ):
        answer = self.post(
            signed_in, board, defect_1_kind="decay", defect_1_place="heart"
        )
        assert answer.status_code == 422
        assert "Decay" in answer.context["form"].errors["accepted"][0]
        assert 'value="heart"' in answer.content.decode()
        assert not BoardCheck.objects.exists()

    def test_a_place_without_a_defect_is_asked_about(self, signed_in, board):
        answer = self.post(signed_in, board, defect_2_place="at the tip")
        assert answer.context["form"].errors["defect_2"] == [
            "Name the defect that is there."
        ]

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("rings", ""),
            ("rings", "round"),
            ("accepted", ""),
            ("defect_1_kind", "gremlin"),
            ("defect_1_place", "x" * 81),
            ("happened_at", "2199-01-01T10:00"),
        ],
    )
    def test_a_slip_changes_nothing(self, signed_in, board, field, typed):
        answer = self.post(signed_in, board, **{"defect_1_kind": "warp", field: typed})
        assert answer.status_code == 422
        name = field.removesuffix("_kind").removesuffix("_place")
        assert answer.context["form"].errors[name]
        assert not BoardDefect.objects.exists()

    def test_more_than_four_defects_have_room(self, signed_in, board):
        few = signed_in.get(page("inspect", board.number)).content.decode()
        assert "defect_5" not in few
        defects = {f"defect_{n}_kind": "pin_knots" for n in range(1, 8)}
        self.post(signed_in, board, "?defects=more", note="All sound.", **defects)
        assert BoardDefect.objects.count() == 7

    def test_without_authority_the_button_says_why(self, client, board):
        client.force_login(factories.PersonFactory(), backend=BACKEND)
        answer = client.get(page("inspect", board.number))
        assert "no authority to accept lots and boards" in text_of(answer)
        assert answer.context["why_not"]


class TestBoardPage:
    def test_waiting_board_asks_for_its_inspection(self, signed_in, shop):
        board = factories.BoardFactory(state=Board.State.WAITING)
        answer = signed_in.get(page("board", board.number))
        assert said(answer) == ("waiting", "waits for inspection")
        assert answer.context["step"].label == "Inspect"

    def test_readings_come_first_where_the_route_asks_for_them(self, signed_in, shop):
        board = factories.BoardFactory(state=Board.State.WAITING)
        stage = factories.StageFactory(scope="board")
        factories.CharacteristicFactory(
            stage=stage, on="board", code="moisture", name="Moisture content", unit="%"
        )
        answer = signed_in.get(page("board", board.number))
        assert answer.context["step"].label == "Log moisture content"
        assert f"board/{board.number}" in answer.context["step"].url

    def test_reading_outside_asks_for_a_deviation_about_it(self, signed_in, shop):
        board = factories.BoardFactory()
        stage = factories.StageFactory(scope="board", name="Board inspection")
        characteristic = factories.CharacteristicFactory(
            stage=stage, on="board", unit="%"
        )
        facts = {"characteristic": characteristic, "propeller": None, "board": board}
        reading = factories.ReadingFactory(**facts, verdict="outside", unit="%")
        answer = signed_in.get(page("board", board.number))
        assert said(answer) == ("outside", "a reading is outside")
        assert answer.context["step"].label == "Open a deviation"
        assert f"reading={reading.pk}" in answer.context["step"].url

    def test_usable_board_says_that_its_stage_is_to_be_signed(self, signed_in, shop):
        board = factories.BoardFactory()
        factories.StageFactory(scope="board", name="Board inspection")
        answer = signed_in.get(page("board", board.number))
        assert "usable Board inspection is not signed yet" in text_of(answer)
        assert answer.context["step"].label == "Sign Board inspection"

    def test_moisture_at_points_shows_verdicts_and_spread(self, signed_in, shop):
        board = factories.BoardFactory()
        moisture = factories.CharacteristicFactory(
            on="board", code="moisture", name="Moisture content", unit="%"
        )
        for entered, point, verdict in (
            ("14.0", "root", "outside"),
            ("9.4", "root", "inside"),
            ("10.9", "tip", "inside"),
        ):
            factories.ReadingFactory(
                characteristic=moisture,
                propeller=None,
                board=board,
                entered=entered,
                unit="%",
                point=point,
                verdict=verdict,
                low=7,
                high=10,
                judged_unit="%",
            )
        words = text_of(signed_in.get(page("board", board.number)))
        assert "Moisture content, root" in words
        assert "9.4 % to 10.9 %: 1.5 % apart over 2 points" in words
        assert "limit 7 % to 10 %" in words
        assert "14.0 %" not in words
        assert "1 earlier reading at the same points" in words

    def test_usable_board_is_sawn_next(self, signed_in, shop):
        board = factories.BoardFactory()
        answer = signed_in.get(page("board", board.number))
        assert said(answer) == ("ok", "usable")
        assert answer.context["step"].label == "Saw a lamination"

    def test_board_of_a_held_lot_says_so(self, signed_in, shop):
        board = factories.BoardFactory()
        factories.HoldFactory(lot=board.lot, reason="species in doubt")
        answer = signed_in.get(page("board", board.number))
        assert said(answer) == ("hold", "on hold")
        assert "species in doubt" in text_of(answer)


class TestLaminations:
    @pytest.fixture
    def board(self, shop):
        return factories.BoardFactory(number="B0007")

    def test_is_sawn_with_the_next_number(self, signed_in, board):
        given = {"mass_g": "3150,5", "end_mark": "A", "balance_point_mm": "-4.5"}
        answer = signed_in.post(page("saw", "B0007"), given, follow=True)
        assert "Write B0007-1 on the lamination" in text_of(answer)
        piece = Lamination.objects.get()
        assert (piece.mass_g, piece.balance_point_mm) == (
            Decimal("3150.5"),
            Decimal("-4.5"),
        )

    @pytest.mark.parametrize("typed", ["315000", "-3", "0", "heavy", "1/3"])
    def test_a_mass_that_can_not_be_is_refused(self, signed_in, board, typed):
        answer = signed_in.post(page("saw", "B0007"), {"mass_g": typed})
        assert answer.status_code == 422
        assert answer.context["form"].errors["mass_g"]
        assert typed in answer.content.decode()
        assert not Lamination.objects.exists()

    def test_voided_number_keeps_its_gap(self, signed_in, board):
        for _ in range(2):
            signed_in.post(page("saw", "B0007"), {"place": "next"})
        signed_in.post(page("void", "B0007-1"), {"reason": "split at the root"})
        signed_in.post(page("saw", "B0007"), {"place": "next"})
        words = text_of(signed_in.get(page("board", "B0007")))
        assert "void: split at the root" in words
        assert "B0007-3" in words
        words = text_of(signed_in.get(page("lamination", "B0007-1")))
        assert "Void because split at the root" in words
        assert "It is void." in words

    def test_void_without_a_reason_is_refused(self, signed_in, board):
        piece = factories.LaminationFactory(board=board)
        answer = signed_in.post(page("void", piece.number), {"reason": ""})
        assert answer.status_code == 422
        piece.refresh_from_db()
        assert piece.state == Lamination.State.GOOD

    def test_board_is_finished_and_opened_again(self, signed_in, board):
        form_key = {"form_key": "5f0c5b1e-6d0f-4d4c-9a51-6f1c2f1b8a11"}
        signed_in.post(page("finish", "B0007"), form_key)
        assert "sawn up" in text_of(signed_in.get(page("board", "B0007")))
        signed_in.post(page("reopen", "B0007"), {"form_key": ""})
        board.refresh_from_db()
        assert board.state == Board.State.USABLE

    def test_lamination_of_a_held_board_says_so(self, signed_in, board):
        piece = factories.LaminationFactory(board=board)
        factories.HoldFactory(board=board, reason="compression wood")
        answer = signed_in.get(page("lamination", piece.number))
        assert said(answer) == ("hold", "on hold")
        assert "compression wood" in text_of(answer)

    def test_page_says_where_it_lies(self, signed_in, board):
        blank = factories.BlankFactory()
        piece = factories.LaminationFactory(
            board=board, blank=blank, position=2, turned=True
        )
        words = text_of(signed_in.get(page("lamination", piece.number)))
        assert f"Blank {blank.number}" in words
        assert "2, turned end for end" in words


class TestList:
    def test_finds_by_lot_state_and_words(self, signed_in, shop):
        ash = factories.TimberFactory(name="White ash")
        one = factories.BoardFactory(lot=factories.LotFactory(material=ash))
        two = factories.BoardFactory(state=Board.State.REFUSED)
        for asked, result in (
            (f"lot={one.lot.number.lower()}", one),
            ("state=refused", two),
            ("text=ash", one),
            (f"text={two.number}", two),
        ):
            answer = signed_in.get(f"{page('boards')}?{asked}")
            numbers = [row.record.number for row in answer.context["table"].rows]
            assert numbers == [result.number], asked

    def test_size_not_known_is_a_dash_and_csv_has_every_board(self, signed_in, shop):
        for _ in range(30):
            factories.BoardFactory(length_mm=None)
        assert "\N{EN DASH} x 190 x 24" in text_of(signed_in.get(page("boards")))
        answer = signed_in.get(f"{page('boards')}?export=csv")
        assert len(answer.getvalue().decode().splitlines()) == 31


class TestQueries:
    """No page makes more queries for more rows."""

    def test_list(self, signed_in, shop):
        factories.BoardFactory()
        few = queries_of(signed_in, page("boards"))
        for _ in range(ROWS):
            factories.LaminationFactory()
        assert queries_of(signed_in, page("boards")) == few

    def test_board(self, signed_in, owner):
        stage = factories.StageFactory(scope="board")
        characteristic = factories.CharacteristicFactory(
            stage=stage, on="board", at_least=99
        )
        board = factories.BoardFactory()
        gauge = factories.GaugeFactory()
        written = {"written_at": factories.NOON, "written_by": owner}

        def fill():
            factories.LaminationFactory(
                board=board, blank=factories.BlankFactory(), position=1
            )
            factories.ReadingFactory(
                characteristic=characteristic, propeller=None, board=board, gauge=gauge
            )
            check = BoardCheck.objects.create(
                board=board,
                happened_at=factories.NOON,
                rings="flat",
                accepted=True,
                **written,
            )
            BoardDefect.objects.create(check_of=check, kind="warp", **written)
            factories.AttachmentFactory(board=board)

        fill()
        few = queries_of(signed_in, page("board", board.number))
        for _ in range(ROWS):
            fill()
        assert queries_of(signed_in, page("board", board.number)) == few

    def test_lamination(self, signed_in, shop):
        piece = factories.LaminationFactory()
        characteristic = factories.CharacteristicFactory(on="lamination")

        def fill():
            factories.ReadingFactory(
                characteristic=characteristic, propeller=None, lamination=piece
            )
            factories.AttachmentFactory(lamination=piece)

        fill()
        few = queries_of(signed_in, page("lamination", piece.number))
        for _ in range(ROWS):
            fill()
        assert queries_of(signed_in, page("lamination", piece.number)) == few
