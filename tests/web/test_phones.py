"""Random histories of several pretend phones: in the end nothing that was entered is lost, and all hold the same.

A pretend phone keeps what a phone keeps: documents, an outbox, a cursor. Requests and answers get lost at random.
"""
import copy
import shutil
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule, run_state_machine_as_test

from tests.web.conftest import SECRET, Hand, a_revision, a_system, new_id
from webapp.app import create_app
from webapp.store import revisions

PHONES = 3
CLOCKS = ("2026-11-23T09:05:00+01:00", "1999-12-31T23:59:59-11:00", "2126-06-01T12:00:00+05:30")
TEXTS = st.sampled_from(["A", "B", "C"])
LOST = st.sampled_from([None, None, "request", "answer"])


class Phone:
    """What a phone keeps and does. `entered`: all revisions that were made on it, by id."""

    def __init__(self, app, clock):
        self.hand = Hand(app)
        assert self.hand.sign_in("technician", phone=new_id()).status_code == 200
        self.clock, self.cursor = clock, 0
        self.held, self.outbox, self.entered, self.pulled = {}, [], {}, []

    def save(self, document, body, **envelope):
        held = self.held.get(document)
        parent = {"document": document, "id": held["revision"]} if held else None
        made = a_revision(body, parent, kind="system", document=document, made_at=self.clock, **envelope)
        self.entered[made["id"]] = made
        self.outbox.append(made)
        self.held[document] = {"revision": made["id"], "body": body, "deleted": made["deleted"], "waiting": True,
                               "server": held["server"] if held else 0}

    def send(self, most, lost=None):
        batch = self.outbox[:most]
        if not batch or lost == "request":
            return
        results = self.hand.send(*copy.deepcopy(batch))
        if lost == "answer":
            return
        for sent, result in zip(batch, results):
            assert (result["id"], result["state"] != "refused") == (sent["id"], True), result
            held = self.held[sent["document"]]
            held["waiting"] = held["waiting"] and held["revision"] != sent["id"]
        self.outbox = self.outbox[len(batch):]

    def pull(self, limit, lost=None):
        """One page of the feed; True when there is more."""
        if lost == "request":
            return True
        answer = self.hand.feed(self.cursor, limit)
        if lost == "answer":
            return True
        for revision in answer["revisions"]:
            self.pulled.append(revision["number"])
            self._take(revision)
        self.cursor = answer["cursor"]
        return answer["more"]

    def _take(self, revision):
        held = self.held.get(revision["document"])
        if held and held["waiting"] and held["revision"] != revision["id"]:
            held["server"] = revision["number"]
        else:
            self.held[revision["document"]] = {"revision": revision["id"], "body": revision["body"], "waiting": False,
                                               "deleted": revision["deleted"], "server": revision["number"]}


class Phones(RuleBasedStateMachine):
    """The plant: one server, several phones, and what their people do."""

    def __init__(self, database):
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.app = create_app("sqlite:///%s" % shutil.copy(database, Path(self.folder.name) / "plant.sqlite"), SECRET)
        self.phones = [Phone(self.app, clock) for clock in CLOCKS]
        self.changed_by = {}  # (document, field) -> {phone: the value it entered last}

    def pick(self, data, phone, deleted=False):
        """A document that this phone holds."""
        return data.draw(st.sampled_from([key for key, held in phone.held.items() if held["deleted"] == deleted]))

    def holds(self, deleted):
        return [phone for phone in self.phones if any(held["deleted"] == deleted for held in phone.held.values())]

    @initialize()
    def begin(self):
        system = a_system()
        self.phones[0].save(system["id"], system)
        self.meet()

    @rule(number=st.integers(0, PHONES - 1))
    def make_a_system(self, number):
        system = a_system()
        self.phones[number].save(system["id"], system)

    @precondition(lambda self: self.holds(False))
    @rule(data=st.data(), field=st.sampled_from(["name", "area", "relief"]), text=TEXTS)
    def change_a_field(self, data, field, text):
        phone = data.draw(st.sampled_from(self.holds(False)))
        document = self.pick(data, phone)
        body = copy.deepcopy(phone.held[document]["body"])
        if field == "relief":
            body["pump"]["relief_bar"] = 240 + ord(text)
        else:
            body[field] = text
        phone.save(document, body)
        self.changed_by.setdefault((document, field), {})[phone] = self.value(body, field)

    @staticmethod
    def value(body, field):
        return body["pump"]["relief_bar"] if field == "relief" else body[field]

    @precondition(lambda self: self.holds(False))
    @rule(data=st.data(), text=TEXTS)
    def rename_or_add_a_point(self, data, text):
        phone = data.draw(st.sampled_from(self.holds(False)))
        document = self.pick(data, phone)
        body = copy.deepcopy(phone.held[document]["body"])
        named = [point for point in body["points"] if point["id"] == "P" + text]
        if named:
            named[0]["name"] = data.draw(TEXTS)
        else:
            body["points"].append(dict(body["points"][0], id="P" + text))
        phone.save(document, body)

    @precondition(lambda self: self.holds(False))
    @rule(data=st.data(), text=TEXTS)
    def take_a_point_out(self, data, text):
        phone = data.draw(st.sampled_from(self.holds(False)))
        document = self.pick(data, phone)
        body = copy.deepcopy(phone.held[document]["body"])
        body["points"] = [point for point in body["points"] if point["id"] != "P" + text]
        phone.save(document, body)

    @precondition(lambda self: self.holds(False))
    @rule(data=st.data())
    def delete(self, data):
        phone = data.draw(st.sampled_from(self.holds(False)))
        document = self.pick(data, phone)
        phone.save(document, phone.held[document]["body"], deleted=True)

    @precondition(lambda self: self.holds(True))
    @rule(data=st.data())
    def bring_back(self, data):
        phone = data.draw(st.sampled_from(self.holds(True)))
        document = self.pick(data, phone, deleted=True)
        phone.save(document, phone.held[document]["body"], reason="still needed")

    @rule(number=st.integers(0, PHONES - 1), most=st.integers(1, 4), lost=LOST)
    def send(self, number, most, lost):
        self.phones[number].send(most, lost)

    @rule(number=st.integers(0, PHONES - 1), limit=st.integers(1, 4), lost=LOST)
    def pull(self, number, limit, lost):
        self.phones[number].pull(limit, lost)

    @rule()
    def meet(self):
        """All have signal: everything goes up, then everything comes down."""
        for phone in self.phones:
            phone.send(200)
        for phone in self.phones:
            while phone.pull(200):
                pass

    def teardown(self):
        self.meet()
        with self.app.extensions["store"].reading() as connection:
            self.all_that_was_entered_is_there(connection)
            self.all_hold_the_same(connection)
            self.nobody_was_overwritten_unseen(connection)
        self.app.extensions["store"].close()
        self.folder.cleanup()

    def all_that_was_entered_is_there(self, connection):
        for phone in self.phones:
            assert phone.outbox == []
            for made in phone.entered.values():
                stored = revisions.find(connection, made["id"])
                assert {name: stored[name] for name in made} == made
        numbers = list(range(1, revisions.count(connection) + 1))
        for phone in self.phones:
            assert phone.pulled == numbers

    def all_hold_the_same(self, connection):
        documents = {made["document"] for phone in self.phones for made in phone.entered.values()}
        for phone in self.phones:
            assert set(phone.held) == documents
            for document, held in phone.held.items():
                newest = revisions.newest(connection, document)
                assert (held["revision"], held["body"], held["deleted"]) == (newest["id"], newest["body"], newest["deleted"])

    def nobody_was_overwritten_unseen(self, connection):
        """A field that one phone alone changed shows its last value; unless deleting met changing, which is marked."""
        for (document, field), by in self.changed_by.items():
            marks = [fields for held in revisions.history(connection, document) for fields in held["fields"]]
            if len(by) == 1 and "deleted" not in marks:
                value, = by.values()
                assert self.value(revisions.newest(connection, document)["body"], field) == value


def test_nothing_is_lost_in_random_histories_of_phones(filled_database):
    run_state_machine_as_test(lambda: Phones(filled_database), settings=settings(
        max_examples=25, stateful_step_count=30, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)))
