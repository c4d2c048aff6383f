"""Period summaries, defect list, refill list and fault case: what they say is what the records say, as it stood at the end of the period."""
import io
import json
import logging
import re

import pytest
from pypdf import PdfReader

from tests.engine.cared import answered
from webapp import papers
from webapp.reports.defect_list import open_on, rows
from webapp.reports.span import Span
from webapp.store import Store, people, revisions

from .codes import codes_on, pages
from .made import ADDRESS, PERIOD, Photos, defect, reader, revision, system

SITE = "Works"
LATER = "2026-12-05T08:00:00+01:00"


def a_system(number, **changes):
    return system(id="b5ac0000-0000-4000-8000-00000000010%d" % number, site=SITE, **changes)


HEAD, CHAIN = a_system(1, name="Head rig"), a_system(2, name="Chain")


def signed_round(of, at, **changes):
    return {"format": "round/1", "id": "round-%s-%s" % (of["name"], at), "system": of["id"], "made_at": at,
            "items": list(answered(of, at, **changes).values()), "signed": {"by": "Vera", "at": at}}


def a_run(of, at):
    return {"format": "test-run/1", "id": "run-" + of["name"], "system": of["id"], "made_at": at, "signed": {"by": "Vera", "at": at},
            "runs": [{"id": "1", "started_at": at, "build_s": 20.0, "counts": True}]}


CLOSED = {"by": "Otto", "at": "2026-11-22T10:00:00+01:00", "how": "Hose renewed", "evidence": "reading", "reading": "dry"}
CASE = {"format": "fault-case/1", "id": "case", "system": HEAD["id"], "made_at": "2026-11-21T08:00:00+01:00", "symptom": "The time limit passed",
        "readings": {"build_s": 61.0, "pressure_bar": {"pump": 40}, "dry_points": ["P1"], "ran_into_limit": True},
        "tried": [{"cause": "empty", "answer": "not found", "at": "2026-11-21T08:10:00+01:00"},
                  {"cause": "leak=N1", "name": "Looked along the pipe to N1", "answer": "found", "at": "2026-11-21T08:20:00+01:00"}],
        "cause": "leak=N1", "defect": "defect-1", "closed": dict(CLOSED, how="Line renewed")}
RECORDS = [
    *(signed_round(HEAD, "2026-11-%02dT08:00:00+01:00" % number) for number in (3, 10, 17)),
    signed_round(HEAD, "2026-11-24T08:00:00+01:00", pump_runs__pump={"answer": "not ok", "note": "Knocks"}),
    signed_round(HEAD, LATER), a_run(HEAD, "2026-11-02T09:00:00+01:00"),
    defect(HEAD, 1, closed=CLOSED), defect(HEAD, 2, severity="danger", what="Guard missing", due="2026-11-12"),
    defect(CHAIN, 3, severity="starving", what="Bearing dry", due="2026-12-24", points=["P1"]),
    defect(CHAIN, 4, made_at=LATER, what="Raised in December"),
    defect(HEAD, 5, closed=dict(CLOSED, at=LATER), what="Closed in December", due="2026-12-01"),
    {"format": "refill/1", "id": "refill", "system": HEAD["id"], "made_at": "2026-11-18T08:00:00+01:00", "refill_l": 2.5, "level_after_l": 4.0,
     "lubricant": "General grease", "batch": "B-1"},
    {"format": "adjustment/1", "id": "adjustment", "system": HEAD["id"], "made_at": "2026-11-19T08:00:00+01:00", "setting": "Pause", "from": "3 h",
     "to": "4 h", "why": "Over-fed"}, CASE]


@pytest.fixture(scope="module")
def connection(tmp_path_factory):
    store = Store("sqlite:///%s" % (tmp_path_factory.mktemp("period") / "plant.sqlite"))
    store.migrate()
    with store.writing() as connection:
        vera = people.add(connection, "Vera", "invented password", people.TECHNICIAN, [SITE])
        for number, body in enumerate([HEAD, CHAIN, *RECORDS]):
            kind = body["format"].partition("/")[0]
            revisions.add(connection, {"id": "r%d" % number, "document": body["id"], "kind": kind, "site": SITE, "parent": None, "also": None,
                                       "made_at": body.get("made_at", "2026-10-20T08:00:00+02:00"), "made_by": vera, "phone": None, "deleted": False,
                                       "reason": None, "body": body}, "accepted")
    with store.reading() as connection:
        yield connection
    store.close()


@pytest.fixture
def paper(connection):
    """paper(kind, document or None, units): bytes of a paper of the period."""
    def make(kind, document=None, units="metric", span=PERIOD):
        about = revisions.newest(connection, document) if document else papers.plant_of(connection)
        return papers.make(connection, kind, reader(Photos(), units), about, span).pdf()
    return make


def text_of(pdf):
    return re.sub(r"\s+", " ", "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages))


EVERY = [("summary", HEAD["id"], "/app/systems/" + HEAD["id"]), ("plant-summary", None, "/plant"), ("defects", None, "/plant/defects"), ("refills", None, "/plant/refills"),
         ("fault-case", "case", "/app/systems/%s/records/case" % HEAD["id"])]


@pytest.mark.parametrize("kind, document, page", EVERY)
def test_each_is_the_same_twice_tagged_without_a_warning_and_its_code_opens_its_page(paper, caplog, kind, document, page):
    with caplog.at_level(logging.WARNING):
        pdf = paper(kind, document)
    assert [record.getMessage() for record in caplog.records if record.name.startswith("weasyprint")] == []
    assert pdf == paper(kind, document)
    read = PdfReader(io.BytesIO(pdf))
    assert read.trailer["/Root"]["/MarkInfo"]["/Marked"] and list(read.attachments)
    assert [text for text, _ in codes_on(pages(pdf)[0])] == [ADDRESS + page]


@pytest.mark.parametrize("kind, document, _", EVERY)
def test_us_units_come_on_letter_and_leave_no_metric_figure(paper, kind, document, _):
    read = PdfReader(io.BytesIO(paper(kind, document, "us")))
    assert float(read.pages[0].mediabox.height) == pytest.approx(11 * 72, abs=0.1)
    assert not re.search(r"\d (l|bar|cm³)\b", "\n".join(page.extract_text() for page in read.pages))


def test_a_system_s_summary_says_what_was_due_done_found_and_closed(paper):
    text = text_of(paper("summary", HEAD["id"]))
    for said in ("4 of 4 rounds due were signed", "Rounds, every 7 days 4 4 signed, at most 7 days apart", "1, 2.5 l in all", "NOT OK Knocks", "Guard missing",
                 "Hose renewed", "a reading", "Fault: The time limit passed", "Line renewed", "Pause: 3 h → 4 h Over-fed", "3 defects found",
                 "2 defects and cases closed", "2 defects open at the end, 1 overdue"):
        assert said in text, said
    assert "Raised in December" not in text


def test_points_not_confirmed_are_counted_from_the_day_on_which_something_was_wrong(paper):
    """By hand: nothing was seen to move before the first round on the 3rd at 7:00 UTC (55 h); a danger is open from the 10th at 7:00 UTC on (497 h)."""
    pdf = paper("summary", HEAD["id"])
    attached = json.loads(PdfReader(io.BytesIO(pdf)).attachments["summary.json"][0])
    assert [row["hours"]["value"] for row in attached["care"]["lacked"]["points"]] == pytest.approx([552.0] * len(HEAD["points"]))
    assert "23 days 1 Nov 2026 to 3 Nov 2026; 10 Nov 2026 to 30 Nov 2026 Open defect: Guard missing" in text_of(pdf)


def test_the_plant_s_summary_lists_the_worst_system_first_and_adds_up(paper):
    text = text_of(paper("plant-summary"))
    assert text.index("Chain") < text.index("Head rig")
    for said in ("4 of 8 rounds due were signed", "4 defects found", "3 defects open at the end, 1 overdue", "Bearing dry", "Guard missing", "Hose renewed"):
        assert said in text, said


@pytest.mark.parametrize("made_at", [None, "yesterday", "2026", "2026-99-99T08:00:00Z"])
def test_a_defect_of_which_nobody_said_when_is_listed_by_when_it_was_sent(made_at):
    row = revision(defect(HEAD, made_at=made_at, changes=[{"photos": [Photos().held(1)] * 3}]))
    assert open_on([row], PERIOD) == [row]
    listed, = rows(reader(), [row], {}, "2026-11-30", {})
    assert (listed["age"], len(listed["photos"]), listed["more"]) == (10, 1, 2)


def test_the_defect_list_is_as_it_stood_on_its_day_the_worst_first(paper):
    text = text_of(paper("defects"))
    assert "3 defects are open, 1 overdue" in text
    order = [text.index(word) for word in ("Guard missing", "Bearing dry", "Closed in December")]
    assert order == sorted(order) and "Raised in December" not in text and "Hose weeps" not in text
    assert "12 Nov 2026, OVERDUE" in text and "24 Dec 2026" in text and "open for 20 days" in text
    december = text_of(paper("defects", span=Span("2026-12-01", "2026-12-31")))
    assert "Raised in December" in december and "Closed in December" not in december


def test_the_refill_list_says_what_is_known_and_what_was_filled_in(paper):
    text = text_of(paper("refills"))
    for said in ("Head rig", "read on", "No level is known.", "18 Nov 2026", "2.5 l General grease B-1 Vera", "24 Nov 2026"):
        assert said in text, said


def test_the_fault_case_tells_its_story_in_order(paper):
    text = text_of(paper("fault-case", "case"))
    told = ["Cause: Line broken or seeping.", "Build-up 1 min 1 s", "40 bar at pump", "Reservoir empty, air drawn in not found",
            "Line broken or seeping Looked along the pipe to N1 found",
            "The defect that came of it", "What was done Line renewed", "Closed by Otto"]
    places = [text.find(one) for one in told]
    assert -1 not in places and places == sorted(places), list(zip(told, places))


def test_a_period_before_the_system_was_entered_asks_nothing(paper):
    early = text_of(paper("summary", HEAD["id"], span=Span("2026-09-01", "2026-09-30")))
    assert "0 of 0 rounds due were signed" in early and "Cannot be judged." in early


@pytest.mark.parametrize("since, until, words", [("x", "2026-11-30", "is no day"), ("2026-11-30", "2026-11-01", "before it begins"),
                                                 ("2026-02-30", "2026-03-01", "is no day")])
def test_what_is_no_period_is_said(since, until, words):
    with pytest.raises(ValueError, match=words):
        Span(since, until)


def test_the_last_days_count_both_ends():
    assert str(Span.last_days("2026-11-30")) == "1 Nov 2026 to 30 Nov 2026"
