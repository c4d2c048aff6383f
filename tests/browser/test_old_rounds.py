"""A phone holds the newest rounds of each system: older ones leave it once they are on the server, what was not sent never does."""
import uuid
from datetime import date, timedelta

from .bench import HEAD_RIG, eventually

HELD = 110
_HELD = """async (system) => {
    const { list } = await import('/static/app/documents.js');
    return (await list('round', system)).map(({ document, waiting }) => [document, waiting]);
}"""
_PHONE = "async () => (await import('/static/app/database.js')).fact('phone')"
_SAVE = """async (body) => { const { save } = await import('/static/app/documents.js'); await save('round', body.id, body); }"""


def a_round(day, signed=True):
    at = "%sT08:00:00+02:00" % day
    body = {"format": "round/1", "id": str(uuid.uuid4()), "system": HEAD_RIG, "made_at": at, "made_by": "technician",
            "items": [{"id": "own", "ask": "All well?", "answer": "ok", "at": at}]}
    return dict(body, signed={"by": "technician", "at": at}) if signed else body


def revision(body):
    return {"id": str(uuid.uuid4()), "document": body["id"], "kind": "round", "parent": None, "also": None, "made_at": body["made_at"],
            "phone": None, "body": body, "deleted": False, "reason": None}


def send(server, bodies):
    reply = server.session("technician").post(server.address + "/sync/send", json={"revisions": [revision(body) for body in bodies]},
                                              headers={"Referer": server.address})
    assert {result["state"] for result in reply.json()["results"]} == {"accepted"}


def test_old_rounds_leave_the_phone_and_what_was_not_sent_stays(server, new_phone):
    begin = date(2027, 1, 1)
    weekly = [a_round(begin + timedelta(weeks=week)) for week in range(HELD + 20)]
    send(server, weekly)
    phone = new_phone()
    phone.sign_in()
    phone.keep_modules()

    def held():
        """Rounds of the system on the phone: document -> does it wait to be sent."""
        return dict(phone.by_modules(_HELD, HEAD_RIG))

    # the demo's own rounds of this system are older than all of these
    eventually(lambda: set(held()) >= {one["id"] for one in weekly[20:]}, 60)
    assert len(held()) == HELD
    phone.open("/app/this-phone")
    phone.page.get_by_text("(the newest 110 of each system)").wait_for()
    phone.page.get_by_text("The desk calls this phone %s." % phone.by_modules(_PHONE, None)[:8]).wait_for()

    server.stop()
    old, unsigned = a_round(date(2019, 1, 1)), a_round(date(2019, 1, 2), signed=False)
    for body in (old, unsigned):
        phone.by_modules(_SAVE, body)
    phone.open("/app/to-send")
    phone.wait_title("2 to send")
    assert {document for document, waiting in held().items() if waiting} == {old["id"], unsigned["id"]}

    server.start()
    send(server, [a_round(date(2031, 12, 1))])
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    eventually(lambda: old["id"] not in held() and weekly[20]["id"] not in held(), 60)
    assert unsigned["id"] in held() and len(held()) == HELD + 1
    assert {old["id"], unsigned["id"]} <= set(server.newest("round"))
