"""Screens about boards and the laminations sawn of them."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Authority, Board, Lamination, Lot
from records.queries.boards import boards_listed
from records.services import boards
from records.services.ledger import Act
from records.web.boards import forms
from records.web.boards.pages import board_page, lamination_page
from records.web.boards.tables import BoardFilter, BoardTable
from records.web.shared.forms import ShopForm
from records.web.shared.pages import page_of
from records.web.shared.permits import why_not, why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write


def board_list(request: HttpRequest) -> HttpResponseBase:
    """List every board."""
    return listing(
        request,
        BoardTable,
        boards_listed(),
        filterset=BoardFilter,
        template="boards/boards.html",
        context={"why_not": why_not_write(request)},
    )


def board(request: HttpRequest, number: str) -> HttpResponse:
    """Show a board."""
    context = board_page(_find(number), _cant(request))
    return render(request, "boards/board.html", context)


def lamination(request: HttpRequest, number: str) -> HttpResponse:
    """Show a lamination."""
    context = lamination_page(_find_piece(number), _cant(request))
    return render(request, "boards/lamination.html", context)


def add(request: HttpRequest) -> HttpResponse:
    """Give one or several boards their numbers."""
    lot = Lot.objects.filter(number=request.GET.get("lot", "")).first()
    return write(
        request,
        forms.BoardsForm(request.POST or None, initial={"lot": lot}),
        lambda act, a: boards.add_boards(act=act, **a),
        template="boards/add.html",
        then=_after_adding,
        said=_added,
        context={"lot": lot, "why_not": why_not_write(request)},
    )


def inspect(request: HttpRequest, number: str) -> HttpResponse:
    """Inspect a board, and accept or refuse it."""
    this_board = _find(number)
    asked = request.GET.get("defects", "")
    rows = forms.MOST_ROWS if asked else forms.USUAL_ROWS
    form = forms.InspectForm(request.POST or None, request.FILES or None, rows=rows)
    return _write_about(
        request,
        this_board,
        form,
        lambda act, a: boards.inspect_board(act=act, board=this_board, **a),
        said=f"Board {this_board} is {{0}}.",
        title="Inspect",
        template="boards/inspect.html",
        barred=why_not(request, Authority.Act.ACCEPT),
    )


def saw(request: HttpRequest, number: str) -> HttpResponse:
    """Give a lamination its number."""
    this_board = _find(number)
    return _write_about(
        request,
        this_board,
        forms.LaminationForm(request.POST or None),
        lambda act, a: boards.saw_lamination(act=act, board=this_board, **a),
        said="Write {0} on the lamination, and its mark on the root end.",
        title="Saw a lamination",
    )


def finish(request: HttpRequest, number: str) -> HttpResponse:
    """Note that nothing is left of a board."""
    this_board = _find(number)
    return _write_about(
        request,
        this_board,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: boards.finish_board(act=act, board=this_board),
        said="Board {0} is sawn up.",
        title="It is sawn up",
    )


def reopen(request: HttpRequest, number: str) -> HttpResponse:
    """Note that a piece of a board is left after all."""
    this_board = _find(number)
    return _write_about(
        request,
        this_board,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: boards.reopen_board(act=act, board=this_board),
        said="Board {0} can be sawn again.",
        title="It is not sawn up",
    )


def void(request: HttpRequest, number: str) -> HttpResponse:
    """Make a lamination's number void."""
    piece = _find_piece(number)
    return _write_about(
        request,
        piece,
        forms.VoidForm(request.POST or None),
        lambda act, a: boards.void_lamination(act=act, lamination=piece, **a),
        said="{0} is void. Number its replacement as a new lamination.",
        title="Make the number void",
    )


def _write_about(
    request: HttpRequest,
    thing: Board | Lamination,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], object],
    *,
    said: str,
    title: str,
    template: str = "boards/about.html",
    barred: str = "",
) -> HttpResponse:
    return write(
        request,
        form,
        do,
        template=template,
        then=lambda _: page_of(thing),
        said=said,
        context={
            "thing": thing,
            "page": page_of(thing),
            "what": title,
            "why_not": barred or why_not_write(request),
        },
    )


def _after_adding(added: list[Board]) -> str:
    if len(added) == 1:
        return page_of(added[0])
    return reverse("lots:lot", args=[added[0].lot.number])


def _added(added: list[Board]) -> str:
    if len(added) == 1:
        return f"Write {added[0]} on the board."
    return f"Write {added[0]} to {added[-1]} on the boards."


def _cant(request: HttpRequest) -> dict[str, str]:
    return {
        "accept": why_not(request, Authority.Act.ACCEPT),
        "write": why_not_write(request),
    }


def _find(number: str) -> Board:
    return get_object_or_404(Board.objects.with_related(), number=number)


def _find_piece(number: str) -> Lamination:
    return get_object_or_404(Lamination.objects.with_related(), number=number)
