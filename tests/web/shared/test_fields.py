"""Fields as a bench needs them: what is read, and what is said otherwise."""

import datetime as dt
from decimal import Decimal

import pytest
from django import forms
from django.core.exceptions import ValidationError

from records.web.shared.fields import (
    CountField,
    DayField,
    MomentField,
    NumberField,
    QuantityField,
)
from records.web.shared.forms import ShopForm


def says(field, typed):
    with pytest.raises(ValidationError) as error:
        field.clean(typed)
    return " ".join(error.value.messages)


class TestNumber:
    @pytest.mark.parametrize(
        ("typed", "number"),
        [("10.30", "10.30"), ("10,3", "10.3"), (" 2 3/8 ", "2.375"), ("-4", "-4")],
    )
    def test_is_read_digit_for_digit(self, typed, number):
        assert str(NumberField().clean(typed)) == number

    @pytest.mark.parametrize("typed", ["ten", "1.3.1", "1e99999", "NaN", "\u0661"])
    def test_is_refused_with_a_sentence(self, typed):
        sentence = says(NumberField(), typed)
        assert sentence[0].isupper() or sentence[0] in "'1"
        assert sentence.endswith(".")

    def test_is_bounded_in_words(self):
        class Form(ShopForm):
            n = NumberField(max_value=60, min_value=0)

        assert "At most 60" in str(Form({"n": "103"}).errors)
        assert "At least 0" in str(Form({"n": "-1"}).errors)

    def test_keeps_what_was_typed(self):
        class Form(ShopForm):
            n = NumberField(unit="%")

        html = str(Form({"n": "1O,3"}))
        assert 'value="1O,3"' in html
        assert 'inputmode="decimal"' in html

    def test_asks_for_a_keyboard_with_a_sign_where_one_is_needed(self):
        assert NumberField(keyboard="text").widget.attrs["inputmode"] == "text"

    def test_may_be_left_out_when_it_is_optional(self):
        assert NumberField(required=False).clean("") is None


class TestCount:
    def test_is_whole(self):
        assert CountField().clean("4") == 4
        assert "whole number" in says(CountField(), "4.5")


class TestQuantity:
    @pytest.mark.parametrize(
        ("typed", "result"),
        [
            ("24", (Decimal(24), "N.m")),
            ("24 ft.lb", (Decimal(24), "lbf.ft")),
            ("2 1/2 N.m", (Decimal("2.5"), "N.m")),
        ],
    )
    def test_is_a_number_with_its_unit_as_entered(self, typed, result):
        assert QuantityField(unit="N.m").clean(typed) == result

    def test_of_another_kind_is_refused(self):
        assert "lbf.ft" in says(QuantityField(unit="N.m"), "24 mm")

    @pytest.mark.parametrize("typed", ["24 furlongs per", "N.m", "2,500 N.m"])
    def test_that_cannot_be_read_is_refused(self, typed):
        assert says(QuantityField(unit="N.m"), typed)


class TestMoment:
    def test_is_of_the_shops_zone(self, settings):
        settings.TIME_ZONE = "America/New_York"
        result = MomentField().clean("2026-03-04T14:05")
        assert result == dt.datetime(2026, 3, 4, 19, 5, tzinfo=dt.UTC)

    def test_is_now_on_a_fresh_form_to_the_minute(self):
        class Form(ShopForm):
            at = MomentField()

        now = dt.datetime.now(dt.UTC)
        shown = Form()["at"].initial
        assert now - dt.timedelta(minutes=1) <= shown <= now
        assert shown.second == shown.microsecond == 0

    # 29 March 2026, 02:00 to 03:00, is left out in Berlin (IANA time zone database).
    def test_that_the_clock_change_leaves_out_is_explained(self, settings):
        settings.TIME_ZONE = "Europe/Berlin"
        assert "clocks change" in says(MomentField(), "2026-03-29T02:30")

    def test_that_cannot_be_read_shows_how(self):
        assert "2026-03-04 14:05" in says(MomentField(), "noon")

    def test_is_empty_when_it_is_optional(self):
        assert MomentField(required=False).initial is None


def test_a_day_is_read_as_the_calendar_gives_it():
    assert DayField().clean("2026-03-04") == dt.date(2026, 3, 4)
    assert "2026-03-04" in says(DayField(), "32 March")


class TestForm:
    def test_has_a_fresh_key_on_every_page(self):
        keys = {ShopForm()["form_key"].value() for _ in range(3)}
        assert len(keys) == 3

    def test_answers_without_its_key(self):
        class Form(ShopForm):
            n = CountField()

        form = Form({"n": "1", "form_key": str(ShopForm()["form_key"].value())})
        assert form.is_valid()
        assert form.answers() == {"n": 1}

    def test_says_what_to_do_in_the_shops_words(self):
        class Form(ShopForm):
            name = forms.CharField(max_length=3)
            kind = forms.ChoiceField(choices=[("a", "A")])
            own = forms.CharField(error_messages={"required": "Own words."})

        errors = Form({"name": "long", "kind": "b"}).errors
        assert "Shorten this to 3 characters" in str(errors["name"])
        assert "Choose one of the list" in str(errors["kind"])
        assert "Own words" in str(errors["own"])

    def test_ties_the_sentence_to_its_field_for_screen_readers(self):
        class Form(ShopForm):
            n = NumberField(help_text="Limit 7 to 10 %")

        html = str(Form({"n": "x"}))
        assert 'aria-describedby="id_n_helptext id_n_error"' in html
        assert 'id="id_n_error"' in html
        assert 'id="id_n_helptext"' in html

    def test_keeps_one_key_whatever_the_prefix(self):
        assert 'name="form_key"' in str(ShopForm(prefix="blade"))
