"""Forms about people: signing in, setting up, accounts and authority."""

from typing import Any

from django import forms

from records.models import Authority, Person
from records.web.shared.fields import DayField, today
from records.web.shared.forms import ShopForm

LOGIN = "sign-in name"


def secret(label: str, *, new: bool = False, **kwargs: Any) -> forms.CharField:
    """Make a field whose content is never shown again."""
    attrs = {"autocomplete": "new-password" if new else "current-password"}
    return forms.CharField(
        label=label,
        max_length=200,
        strip=False,
        widget=forms.PasswordInput(attrs=attrs),
        **kwargs,
    )


def login_field() -> forms.CharField:
    """Make the field for a sign-in name, left as typed by the telephone."""
    plain = {"autocomplete": "username", "autocapitalize": "none", "spellcheck": False}
    return forms.CharField(
        label="Sign-in name", max_length=40, widget=forms.TextInput(attrs=plain)
    )


class SignInForm(ShopForm):
    """Who comes in."""

    login = login_field()
    password = secret("Password")

    def __init__(self, *args: Any, bench: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if bench:
            self.fields["password"].label = "Password or PIN"


class SetUpForm(ShopForm):
    """The shop and its first owner."""

    shop_name = forms.CharField(label="Name of the shop", max_length=80)
    place = forms.CharField(
        label="Place",
        max_length=80,
        required=False,
        help_text="Printed on records beside the date.",
    )
    base_url = forms.CharField(
        label="Address of this program in the shop",
        max_length=200,
        help_text="Printed in tags. A phone in the shop must reach it.",
    )
    name = forms.CharField(
        label="Your name", max_length=80, help_text="As it is printed where you sign."
    )
    login = login_field()
    password = secret("Password", new=True, help_text="At least 12 characters.")


class PersonForm(ShopForm):
    """A printed name and a role."""

    name = forms.CharField(
        label="Name", max_length=80, help_text="As it is printed on what they sign."
    )
    role = forms.ChoiceField(
        label="Role",
        choices=Person.Role,
        initial=Person.Role.MAKER,
        help_text="A reader looks and writes nothing. Who may decide what is "
        "given separately, as authority.",
    )


class NewPersonForm(PersonForm):
    """A new account."""

    login = login_field()
    password = secret(
        "First password",
        new=True,
        help_text="At least 12 characters. They change it on their own page.",
    )


class GrantForm(ShopForm):
    """An authority, from a day until a day."""

    deed = forms.ChoiceField(
        label="May", choices=Authority.Act, widget=forms.RadioSelect
    )
    from_on = DayField(label="From", initial=today)
    until_on = DayField(
        label="Until", required=False, help_text="Last day. Empty: until ended."
    )


class EndForm(ShopForm):
    """The last day of an authority."""

    until_on = DayField(label="Last day", initial=today)


class ConfirmForm(ShopForm):
    """Nothing to enter: the button is the answer."""


class ResetForm(ShopForm):
    """A new password for somebody else."""

    password = secret("New password", new=True, help_text="At least 12 characters.")


class PasswordForm(ShopForm):
    """A new password of one's own."""

    current = secret("Your password now")
    password = secret("New password", new=True, help_text="At least 12 characters.")


class PinForm(ShopForm):
    """A PIN of one's own."""

    current = secret("Your password")
    pin = forms.CharField(
        label="New PIN",
        max_length=8,
        help_text="4 to 8 digits.",
        widget=forms.PasswordInput(
            attrs={"inputmode": "numeric", "autocomplete": "off"}
        ),
    )


class DeviceForm(ShopForm):
    """The name of a bench device."""

    name = forms.CharField(
        label="Name of this device",
        max_length=60,
        help_text="Such as: tablet at the press.",
    )
