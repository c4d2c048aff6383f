"""Which systems will not work tonight: a temperature is typed, the list comes worst first. Many systems are judged in the background."""
from flask import Blueprint, abort, current_app, redirect, render_template, request, url_for
from flask_login import current_user

from .. import fleet
from ..engine.basics.text import shown
from ..store import people, revisions
from ..store.times import now
from ..units import unit_table
from .guard import may_see, sites_of, store, supervisor_needed
from .reader import start, units

blueprint = Blueprint("tonight", __name__, url_prefix="/plant/tonight")

ROWS = 200
_NEAR, _MOST_NEAR = 0.9, 20
_AGAIN_S = 3


@blueprint.record_once
def _open_desk(state):
    state.app.extensions["fleet"] = fleet.Desk()


def _desk():
    return current_app.extensions["fleet"]


def _systems():
    with store().reading() as connection:
        return revisions.newest_of_kind(connection, "system", sites_of(current_user.person))


def _areas(found):
    return sorted({row["body"].get("area") for row in found if row["body"].get("area")})


def _form(found, typed="", area="", wrong=None, status=200):
    kept = _desk().last(current_user.person["id"])
    return render_template("tonight.html", found=len(found), areas=_areas(found), typed=typed, area=area, wrong=wrong, kept=kept,
                           unit=_unit(), temperature=kept and shown(kept["check"].at_c, "°C", units())), status


def _unit():
    """The unit that a number alone is in."""
    return unit_table()["units"]["°C"][units()]


@blueprint.get("")
@supervisor_needed
def page():
    return _form(_systems())


@blueprint.post("")
@supervisor_needed
def begin():
    typed, area, found = request.form.get("temperature", ""), request.form.get("area", ""), _systems()
    try:
        at_c = fleet.temperature(typed, units())
    except ValueError as error:
        return _form(found, typed, area, str(error), 422)
    chosen = [row for row in found if area in ("", row["body"].get("area"))]
    if not chosen:
        return _form(found, typed, area, "There is no system%s to check." % (" in this area" if area else ""), 422)
    try:
        kept = _desk().begin(current_user.person["id"], chosen, at_c, area, now())
    except fleet.Busy as error:
        return _form(found, typed, area, str(error), 409)
    return redirect(url_for("tonight.result", check=kept["id"]), 303)


def _own(check):
    return _desk().last(current_user.person["id"], check) or abort(404)


@blueprint.get("/<check>")
@supervisor_needed
def result(check):
    kept = _own(check)
    running, begin = not kept["check"].over, start()
    verdicts = {key: verdict for key, verdict in list(kept["check"].verdicts.items())
                if may_see(current_user.person, kept["about"][key]["site"])}
    groups = fleet.sorted_out(verdicts)
    near = [key for key in groups["works"] if fleet.most_used(verdicts[key])[1] >= _NEAR][:_MOST_NEAR]
    shown_rows = {"fails": groups["fails"][begin:begin + ROWS], "near": near, "apart": groups["apart"][:ROWS]}
    rows = {group: [_row(key, kept["about"][key], verdicts[key]) for key in keys if not running] for group, keys in shown_rows.items()}
    text = render_template("tonight_result.html", kept=kept, check=kept["check"], running=running, rows=rows, start=begin, step=ROWS,
                           counts={group: len(keys) for group, keys in groups.items()}, by=fleet.counted(verdicts),
                           temperature=shown(kept["check"].at_c, "°C", units()))
    return text, {"Refresh": str(_AGAIN_S)} if running else {}


def _row(key, about, verdict):
    told = fleet.told(verdict, units())
    limit, share = fleet.most_used(verdict) if verdict["limits"] else (None, None)
    return dict(about, document=key, findings=told["findings"], limit=fleet.LIMITS.get(limit),
                share=_share(share), simulated=verdict["by"] == "simulation")


def _share(share):
    """How much of a limit is used ("97 % of", "1.2 times" what is allowed); None where nothing says by how much it is missed."""
    if share in (None, 1.0):
        return None
    return "%s of" % shown(100 * share, "%", units()) if share < 2 else "%s times" % shown(share, "ratio", units())


@blueprint.post("/<check>/stop")
@supervisor_needed
def stop(check):
    _own(check)["check"].stop()
    return redirect(url_for("tonight.result", check=check), 303)
