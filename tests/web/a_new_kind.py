"""A program of test_kinds_of_records.py: an invented kind of record, by an entry of the catalogue alone; one is sent, listed and in tables."""
import io
import sys

from webapp.engine.document import record_fields
from webapp.engine.document.fields import field

# as a developer would write it in record_fields.py, before anything else has read the catalogue
record_fields.RECORDS["visit"] = ("Visit", record_fields._HEAD + (
    field("who", "Who came", "text", record_fields.TYPED),
    field("saw", "What the oil looked like", "choice", record_fields.TYPED, choices=("clear", "milky")),
    field("hours", "How long", "number", record_fields.TYPED, "h", 0, 100, required=False)))
record_fields.ADDED["visit"] = ("Visits", "Note a visit", "Sign in at the gate.")

from pypdf import PdfReader

from tests.web.conftest import CAST, MADE_AT, PASSWORD, SECRET, Hand, a_revision, a_system
from tests.web.records import a_record
from webapp.app import create_app
from webapp.store import Store, people
from webapp.tables import lines


def main(file):
    store = Store("sqlite:///%s" % file)
    store.migrate()
    with store.writing() as connection:
        for name, (role, sites, all_sites) in CAST.items():
            people.add(connection, name, PASSWORD, role, sites, all_sites)
    hand, system = Hand(create_app(store.url, SECRET)), a_system()
    hand.sign_in("supervisor")
    body = a_record("visit", system, saw="milky")
    wrong = dict(a_record("visit", system), saw="green")
    results = hand.send(a_revision(system), a_revision(body), a_revision(wrong))
    assert [one["state"] for one in results] == ["accepted", "accepted", "refused"], results
    assert "What the oil looked like" in results[2]["says"]
    offered = hand.get("/app-data/catalogue.json").get_json()["visit"]
    assert offered["add"] == ["Note a visit", "Sign in at the gate."]
    assert [one["path"] for one in offered["fields"]] == ["who", "saw", "hours"]
    text = hand.get("/plant/" + system["id"]).get_data(as_text=True)
    assert "<h2>Visits</h2>" in text and "milky" in text and "7 h" in text, text
    assert "Visits: all" in hand.get("/plant/%s/visit" % system["id"]).get_data(as_text=True)
    with store.reading() as connection:
        assert ",Who came as typed,milky,7" in list(lines(connection, "visits"))[1]
    day = MADE_AT[:10]
    summary = hand.get("/papers/summary/%s.pdf?since=%s&until=%s" % (system["id"], day, day))
    said = " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(summary.data)).pages).split())
    assert "Visits – 1" in said and "looked like: milky" in said, said[1000:]


if __name__ == "__main__":
    main(sys.argv[1])
