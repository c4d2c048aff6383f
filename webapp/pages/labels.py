"""Sheets of labels: systems, points and paper are chosen, the sheet comes as a PDF in true size."""
from flask import Blueprint, Response, render_template, request
from flask_login import current_user

from .. import papers
from ..reports.labels import LABELS, PAPERS, STANDARD, Sheet, label_sheets, labels_for
from ..store import NotFound
from ..units import read, unit_table
from .guard import sites_of, store, supervisor_needed
from .papers import reader
from .reader import units

blueprint = Blueprint("labels", __name__, url_prefix="/plant/labels")

OWN = "own"
ROWS = 300
# lengths of a sheet of one's own: name -> what it is
LENGTHS = (("width", "Width of a label"), ("height", "Height of a label"), ("left", "From the left edge of the sheet to the first"),
           ("top", "From its upper edge to the first"), ("gap_x", "Gap between columns"), ("gap_y", "Gap between rows"))


def _plant(connection, **chosen):
    try:
        return papers.plant_of(connection, sites_of(current_user.person), **chosen)
    except NotFound:
        return None


def _page(wrong=None, status=200):
    with store().reading() as connection:
        plant = _plant(connection)
    systems = plant.systems if plant else []
    areas = sorted({one["body"]["area"] for one in systems if one["body"].get("area")})
    sheet, paper = ("letter-2x5", "Letter") if units() == "us" else ("a4-3x8", "A4")
    typed = request.form or {"sheet": sheet, "labels": "both", "start": "1", "paper": paper}
    return render_template("labels.html", systems=systems[:ROWS], more=len(systems) > ROWS, areas=areas, standard=STANDARD, own=OWN,
                           lengths=LENGTHS, papers=[*PAPERS, "one label a page"], labels=LABELS, typed=typed,
                           chosen=request.form.getlist("system"), wrong=wrong, address=request.url_root,
                           unit=unit_table()["units"]["mm"][units()]), status


@blueprint.get("")
@supervisor_needed
def page():
    return _page()


def _whole(name, what):
    text = request.form.get(name, "").strip()
    if not text.isascii() or not text.isdecimal() or len(text) > 4:
        raise ValueError("%s: enter a whole number." % what)
    return int(text)


def _length(name, what):
    text = request.form.get(name, "").strip()
    try:
        return read(text or "0", "mm", unit_table()["units"]["mm"][units()])
    except ValueError as error:
        raise ValueError("%s: %s" % (what, error)) from error


def _sheet():
    """The Sheet that was chosen or entered. Raises ValueError with a sentence."""
    chosen = request.form.get("sheet")
    if chosen in STANDARD:
        return STANDARD[chosen][1]
    if chosen != OWN:
        raise ValueError("Choose a label sheet.")
    sizes = {name: _length(name, what) for name, what in LENGTHS}
    return Sheet(request.form.get("paper", ""), _whole("columns", "Columns"), _whole("rows", "Rows"), **sizes)


def _labels(plant):
    wanted = request.form.get("labels")
    if wanted not in LABELS:
        raise ValueError("Choose what the labels are for.")
    return labels_for([one["body"] for one in plant.systems], wanted)


@blueprint.post("")
@supervisor_needed
def print_them():
    try:
        sheet, start = _sheet(), _whole("start", "First label")
        with store().reading() as connection:
            plant = _plant(connection, area=request.form.get("area"), systems=request.form.getlist("system") or None)
        if plant is None:
            raise ValueError("There is no system of those that you chose. Choose others.")
        content = label_sheets(reader(), _labels(plant), sheet, start).pdf()
    except ValueError as error:
        return _page(str(error), 422)
    return Response(content, content_type="application/pdf", headers={"Content-Disposition": 'inline; filename="labels.pdf"'})
