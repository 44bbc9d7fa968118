"""Coming in and going out: signing in, signing out, setting up."""

from axes.decorators import axes_dispatch
from django.contrib import messages
from django.contrib.auth import authenticate, login, logout
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from records.models import Person
from records.queries.people import anybody_works_here, open_link
from records.services.people import accounts as people
from records.services.people.reauthenticate import PIN, reauthenticate
from records.services.refusal import Refusal
from records.web.people.forms import SetUpForm, SignInForm
from records.web.shared.access import public
from records.web.shared.bench import begin_short_session, device_enrolled
from records.web.shared.context import home
from records.web.shared.writing import UNPROCESSABLE, put_findings

BACKEND = "django.contrib.auth.backends.ModelBackend"
WRONG = (
    "Name and password do not belong together. Check both; capitals count in the "
    "password. Whoever manages people can give you a new one."
)


@public
@never_cache
@sensitive_post_parameters("password")
@axes_dispatch  # type: ignore[untyped-decorator]
def sign_in(request: HttpRequest) -> HttpResponse:
    """Let somebody in."""
    bench = device_enrolled(request)
    form = SignInForm(request.POST or None, bench=bench)
    status = 200
    if request.method == "POST":
        status = UNPROCESSABLE
        if form.is_valid() and (person := _who(request, form, bench=bench)):
            return _let_in(request, person, bench=bench)
    context = {"form": form, "is_set_up": anybody_works_here()}
    return render(request, "people/sign_in.html", context, status=status)


def _who(request: HttpRequest, form: SignInForm, *, bench: bool) -> Person | None:
    answers = form.answers()
    name, secret = answers["login"].strip().lower(), answers["password"]
    if bench and PIN.fullmatch(secret):
        return _who_by_pin(form, name, secret)
    person = authenticate(request, login=name, password=secret)
    if isinstance(person, Person):
        return person
    form.add_error(None, WRONG)
    return None


def _who_by_pin(form: SignInForm, name: str, pin: str) -> Person | None:
    person = Person.objects.filter(login=name, is_active=True).first()
    if person is None:
        form.add_error(None, WRONG)
        return None
    try:
        reauthenticate(person, timezone.now(), pin=pin, device_enrolled=True)
    except Refusal as refusal:
        put_findings(form, refusal)
        return None
    return person


def _let_in(request: HttpRequest, person: Person, *, bench: bool) -> HttpResponse:
    login(request, person, backend=BACKEND)
    if bench:
        begin_short_session(request, timezone.now())
    wanted = request.GET.get("next", "")
    safe = url_has_allowed_host_and_scheme(
        wanted, {request.get_host()}, require_https=request.is_secure()
    )
    return redirect(wanted if safe else home())


@public
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Let somebody out."""
    logout(request)
    messages.info(request, "You are signed out.")
    return redirect("people:sign_in")


@public
@never_cache
@sensitive_post_parameters("password")
def set_up(request: HttpRequest, token: str) -> HttpResponse:
    """Open the book with the link that the program printed."""
    if anybody_works_here():
        raise Http404
    usable = open_link(token, timezone.now()).exists()
    here = request.build_absolute_uri("/").rstrip("/")
    form = SetUpForm(request.POST or None, initial={"base_url": here})
    status = 200
    if request.method == "POST":
        status = UNPROCESSABLE
        if form.is_valid() and (person := _set_up(form, token)):
            login(request, person, backend=BACKEND)
            messages.success(request, f"The book is open, {person.name}.")
            return redirect("shop:shop")
    context = {"form": form, "usable": usable}
    return render(request, "people/set_up.html", context, status=status)


def _set_up(form: SetUpForm, token: str) -> Person | None:
    try:
        return people.set_up_shop(token=token, at=timezone.now(), **form.answers())
    except Refusal as refusal:
        put_findings(form, refusal)
        return None
