"""Each person's secret calendar address: made and revoked by themselves, or for anybody by an administrator; the feed behind it."""
import secrets

from flask import Blueprint, Response, abort, flash, redirect, render_template, request, url_for
from flask_login import current_user, login_required

from .. import feed
from ..people_session import limiter
from ..store import people
from .guard import administrator_needed, store
from .reader import clock
from .sign_in import EmptyForm

blueprint = Blueprint("calendar", __name__)


def _base():
    return request.host_url.rstrip("/")


def _address(key):
    return "%s/calendar/%s.ics" % (_base(), key)


def _set(identity, key):
    """Give or take the key of a person, and note it."""
    with store().writing() as connection:
        people.set_calendar_key(connection, identity, key)
        people.note(connection, current_user.person["id"], "made a calendar address" if key else "revoked a calendar address", identity)


@blueprint.get("/calendar")
@login_required
def page():
    key = current_user.person["calendar_key"]
    return render_template("calendar.html", address=_address(key) if key else None, button=EmptyForm())


@blueprint.post("/calendar")
@login_required
def make():
    _set(current_user.person["id"], secrets.token_urlsafe(32))
    return redirect(url_for("calendar.page"))


@blueprint.post("/calendar/revoke")
@login_required
def revoke():
    _set(current_user.person["id"], None)
    return redirect(url_for("calendar.page"))


@blueprint.post("/people/<identity>/calendar")
@administrator_needed
def set_for(identity):
    """Make an address for anybody, shown once to be handed over, or revoke it."""
    with store().reading() as connection:
        person = people.get(connection, identity)
    key = None if person["calendar_key"] else secrets.token_urlsafe(32)
    _set(identity, key)
    flash("Calendar address of %s, for nobody else: %s" % (person["name"], _address(key)) if key
          else "The calendar address of %s leads nowhere any more." % person["name"])
    return redirect(url_for("people.page"))


@blueprint.get("/calendar/<secret>.ics")
@limiter.limit("30 per minute")
def ics(secret):
    """Opened by calendar programs, which have no session: the secret alone says whose it is."""
    with store().reading() as connection:
        person = people.by_calendar_key(connection, secret)
        if person is None:
            abort(404)
        made = feed.calendar(connection, person, clock(), _base())
    return Response(made, content_type="text/calendar; charset=utf-8", headers={"Content-Disposition": 'inline; filename="linewright.ics"'})
