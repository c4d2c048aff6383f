"""People and phones, for the administrator."""
from flask import Blueprint, flash, redirect, render_template, url_for
from flask_login import current_user
from flask_wtf import FlaskForm
from wtforms import BooleanField, PasswordField, SelectField, StringField
from wtforms.validators import InputRequired, Length

from ..store import Taken, people
from .guard import administrator_needed, store
from .sign_in import EmptyForm

blueprint = Blueprint("people", __name__)


class PersonForm(FlaskForm):
    name = StringField("Name", [InputRequired("Enter a name."), Length(max=100)])
    password = PasswordField("First password", [Length(min=people.SHORTEST_PASSWORD, max=300,
                                                       message="At least %d characters." % people.SHORTEST_PASSWORD)])
    role = SelectField("Role", choices=people.ROLES)
    sites = StringField("Sites, separated by commas", [Length(max=1000)])
    all_sites = BooleanField("All sites")


class PasswordForm(FlaskForm):
    password = PasswordField("New password", [Length(min=people.SHORTEST_PASSWORD, max=300,
                                                     message="At least %d characters." % people.SHORTEST_PASSWORD)])


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
    sites = [site.strip() for site in (form.sites.data or "").split(",") if site.strip()]
    with store().writing() as connection:
        try:
            identity = people.add(connection, form.name.data, form.password.data, form.role.data, sites, form.all_sites.data)
        except Taken as taken:
            form.name.errors = [str(taken)]
            identity = None
        else:
            people.note(connection, current_user.person["id"], "added a person", identity)
    return redirect(url_for("people.page")) if identity else _page(form, 422)


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
        flash("The password was not changed: at least %d characters." % people.SHORTEST_PASSWORD)
        return redirect(url_for("people.page"))
    return _change(_known(identity)["id"], "set a password",
                   lambda connection: people.set_password(connection, identity, form.password.data))


@blueprint.post("/people/<identity>/active")
@administrator_needed
def set_active(identity):
    person = _known(identity)
    return _change(identity, "let in" if not person["active"] else "kept out",
                   lambda connection: people.set_active(connection, identity, not person["active"]))


@blueprint.post("/phones/<identity>/revoked")
@administrator_needed
def set_revoked(identity):
    with store().reading() as connection:
        revoked = people.is_revoked(connection, identity)
    return _change(identity, "let a phone in" if revoked else "revoked a phone",
                   lambda connection: people.set_revoked(connection, identity, not revoked))
