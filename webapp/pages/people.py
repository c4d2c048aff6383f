"""People and phones, for the administrator."""
from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask_login import current_user
from flask_wtf import FlaskForm
from wtforms import BooleanField, PasswordField, SelectField, StringField
from wtforms.validators import DataRequired, Length, ValidationError

from ..store import Taken, is_text, people
from .guard import administrator_needed, store
from .sign_in import EmptyForm

blueprint = Blueprint("people", __name__)


_LONGEST_PASSWORD = 300
_PASSWORD_SAYS = "%d to %d characters." % (people.SHORTEST_PASSWORD, _LONGEST_PASSWORD)


def _text(_, field):
    if not is_text(field.data or ""):
        raise ValidationError("It holds a letter that cannot be kept: enter it again.")


def _sites(text):
    return [site.strip() for site in (text or "").split(",") if site.strip()]


def _password(label):
    return PasswordField(label, [Length(people.SHORTEST_PASSWORD, _LONGEST_PASSWORD, _PASSWORD_SAYS), _text])


class PersonForm(FlaskForm):
    name = StringField("Name", [DataRequired("Enter a name."), Length(max=100), _text])
    password = _password("First password")
    role = SelectField("Role", choices=people.ROLES)
    sites = StringField("Sites, separated by commas", [Length(max=1000), _text])
    all_sites = BooleanField("All sites")

    def validate_sites(self, field):
        if not self.all_sites.data and not _sites(field.data):
            raise ValidationError("Somebody without a site sees nothing: name one, or tick all sites.")


class PasswordForm(FlaskForm):
    password = _password("New password")


def _page(form, status=200):
    with store().reading() as connection:
        return render_template("people.html", people=people.everybody(connection), phones=people.phones(connection),
                               form=form, password=PasswordForm(), button=EmptyForm()), status


@blueprint.get("/people")
@administrator_needed
def page():
    return _page(PersonForm())


@blueprint.post("/people")
@administrator_needed
def add():
    form = PersonForm()
    if not form.validate_on_submit():
        return _page(form, 422)
    name, sites = form.name.data.strip(), _sites(form.sites.data)
    with store().writing() as connection:
        try:
            identity = people.add(connection, name, form.password.data, form.role.data, sites, form.all_sites.data)
        except Taken as taken:
            form.name.errors = [str(taken)]
            identity = None
        else:
            people.note(connection, current_user.person["id"], "added a person", identity)
    return redirect(url_for("people.page", _anchor="main")) if identity else _page(form, 422)


def _change(identity, what, change):
    with store().writing() as connection:
        change(connection)
        people.note(connection, current_user.person["id"], what, identity)
    return redirect(url_for("people.page"))


def _known(identity):
    with store().reading() as connection:
        return people.get(connection, identity)


@blueprint.post("/people/<identity>/password")
@administrator_needed
def set_password(identity):
    form = PasswordForm()
    if not form.validate_on_submit():
        flash("The password was not changed. It needs %s" % _PASSWORD_SAYS)
        return redirect(url_for("people.page"))
    return _change(_known(identity)["id"], "set a password",
                   lambda connection: people.set_password(connection, identity, form.password.data))


def _let_in():
    """Whether somebody is to be let in or kept out, as the button said that was pressed: a page that is out of date does no other thing."""
    to = request.form.get("to")
    return to == "in" if to in ("in", "out") else abort(400)


@blueprint.post("/people/<identity>/active")
@administrator_needed
def set_active(identity):
    person, active = _known(identity), _let_in()
    if person["id"] == current_user.person["id"] and not active:
        flash("You cannot keep yourself out: another administrator can.")
        return redirect(url_for("people.page"))
    return _change(identity, "let in" if active else "kept out", lambda connection: people.set_active(connection, identity, active))


@blueprint.post("/phones/<identity>/revoked")
@administrator_needed
def set_revoked(identity):
    let_in = _let_in()
    return _change(identity, "let a phone in" if let_in else "revoked a phone",
                   lambda connection: people.set_revoked(connection, identity, not let_in))
