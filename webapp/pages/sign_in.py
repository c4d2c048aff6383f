"""The door: signing in and out at a desk, and with one tap in the demo."""
from flask import Blueprint, abort, current_app, redirect, render_template, request, session, url_for
from flask_login import current_user, logout_user
from flask_wtf import FlaskForm
from wtforms import PasswordField, StringField
from wtforms.validators import InputRequired, Length

from ..people_session import begin_session, limit_key, limiter
from ..store import people
from .guard import store

blueprint = Blueprint("sign_in", __name__)


class SignInForm(FlaskForm):
    name = StringField("Name", [InputRequired("Enter your name."), Length(max=100)])
    password = PasswordField("Password", [InputRequired("Enter your password."), Length(max=300)])


class EmptyForm(FlaskForm):
    """A button: nothing but the token."""


def _home(asked=None):
    """To the address that was asked for, else to the first page of the person's role."""
    technician = current_user.person["role"] == people.TECHNICIAN
    return redirect(asked or ("/app/" if technician else "/plant"))


@blueprint.get("/")
def page():
    if current_user.is_authenticated:
        return _home()
    return render_template("sign_in.html", form=SignInForm(), button=EmptyForm(), demo=current_app.config["DEMO"])


@blueprint.post("/")
@limiter.limit("10 per minute; 60 per hour", key_func=limit_key, deduct_when=lambda reply: reply.status_code == 401)
def enter():
    form = SignInForm()
    person = None
    if form.validate_on_submit():
        with store().reading() as connection:
            person = people.verify(connection, form.name.data, form.password.data)
        if person is None:
            form.password.errors = ["Name or password is wrong. Try again."]
    if person is None:
        return render_template("sign_in.html", form=form, button=EmptyForm(), demo=current_app.config["DEMO"]), 401
    return _home(begin_session(person))


@blueprint.post("/demo/sign-in")
def demo_enter():
    """One tap, in the demo alone, which answers on the loopback address only."""
    if not current_app.config["DEMO"]:
        abort(404)
    name = request.form.get("name")
    if name not in (people.TECHNICIAN, people.SUPERVISOR):
        abort(400)
    with store().reading() as connection:
        person = people.by_name(connection, name)
    return _home(begin_session(person))


@blueprint.post("/sign-out")
def leave():
    logout_user()
    session.clear()
    return redirect(url_for("sign_in.page"))
