"""Every route against every role. A route that is not in the table fails, so that a new one is thought about."""
import re

import pytest

from tests.web.conftest import SECRET, a_revision, a_system
from tests.web.records import a_record
from webapp.app import create_app
from webapp.papers import PAPER_OF

SIGN_IN = "to sign-in"
# an answer by right, before anything is looked up: a status, or a redirect to the door
EVERYBODY = {"anonymous": 200, "technician": 200, "supervisor": 200, "administrator": 200, "outsider": 200}
ANYBODY_SIGNED_IN = EVERYBODY | {"anonymous": 401}
DESK = {"anonymous": SIGN_IN, "technician": 403, "supervisor": 200, "administrator": 200, "outsider": 200}
# of a document on a site: the outsider works elsewhere and learns nothing
DESK_OF_SITE = DESK | {"outsider": 404}
DESK_OF_NOBODY = DESK | dict.fromkeys(["supervisor", "administrator", "outsider"], 404)
# of all systems of one's sites: the outsider's site has none
DESK_OF_PLANT = DESK_OF_SITE
READABLE = {"anonymous": SIGN_IN, "technician": 200, "supervisor": 200, "administrator": 200, "outsider": 404}
ADMINISTRATOR = {"anonymous": SIGN_IN, "technician": 403, "supervisor": 403, "administrator": 302, "outsider": 403}
NOT_HERE = dict.fromkeys(EVERYBODY, 404)
REDIRECTS = dict.fromkeys(EVERYBODY, 302)

TABLE = {
    ("GET", "/"): EVERYBODY | dict.fromkeys(["technician", "supervisor", "administrator", "outsider"], 302),
    ("POST", "/"): dict.fromkeys(EVERYBODY, 401),
    ("POST", "/demo/sign-in"): NOT_HERE,
    ("POST", "/sign-out"): REDIRECTS,
    ("GET", "/app/"): EVERYBODY,
    ("GET", "/app/<path:_rest>"): EVERYBODY,
    ("GET", "/sw.js"): EVERYBODY,
    ("GET", "/manifest.webmanifest"): EVERYBODY,
    ("GET", "/app-data/files.json"): EVERYBODY,
    ("GET", "/app-data/<any('engine.json', 'engine-version.json', 'catalogue.json', 'units.json'):name>"): EVERYBODY,
    ("GET", "/calendar"): dict.fromkeys(EVERYBODY, 200) | {"anonymous": SIGN_IN},
    ("POST", "/calendar"): REDIRECTS | {"anonymous": SIGN_IN},
    ("POST", "/calendar/revoke"): REDIRECTS | {"anonymous": SIGN_IN},
    ("GET", "/calendar/<secret>.ics"): NOT_HERE,
    ("POST", "/people/<identity>/calendar"): ADMINISTRATOR | {"administrator": 404},
    ("GET", "/people"): ADMINISTRATOR | {"administrator": 200},
    ("POST", "/people"): ADMINISTRATOR | {"administrator": 422},
    ("POST", "/people/<identity>/password"): ADMINISTRATOR,
    ("POST", "/people/<identity>/active"): ADMINISTRATOR | {"administrator": 404},
    ("POST", "/phones/<identity>/revoked"): ADMINISTRATOR | {"administrator": 400},
    ("GET", "/plant-file"): ADMINISTRATOR | {"administrator": 200},
    ("POST", "/plant-file"): ADMINISTRATOR | {"administrator": 200},
    ("GET", "/papers/settings/<document>.pdf"): READABLE,
    ("GET", "/papers/season/<document>.pdf"): READABLE,
    **{("GET", "/papers/%s/<document>.pdf" % paper): READABLE for paper in PAPER_OF.values()},
    ("GET", "/papers/defects.pdf"): DESK_OF_PLANT,
    ("GET", "/papers/summary/<document>.pdf"): READABLE,
    ("GET", "/papers/plant-summary.pdf"): DESK_OF_PLANT,
    ("GET", "/papers/refills.pdf"): DESK_OF_PLANT,
    ("GET", "/plant/labels"): DESK,
    ("POST", "/plant/labels"): DESK_OF_NOBODY | dict.fromkeys(["supervisor", "administrator", "outsider"], 422),
    ("GET", "/plant/papers"): DESK,
    ("POST", "/plant/papers"): DESK_OF_NOBODY | dict.fromkeys(["supervisor", "administrator", "outsider"], 422),
    ("POST", "/plant/papers/<job>/stop"): DESK_OF_NOBODY,
    ("GET", "/plant/papers/<job>/file"): DESK_OF_NOBODY,
    ("GET", "/plant"): DESK,
    ("GET", "/plant/<document>"): DESK_OF_SITE,
    ("GET", "/plant/<document>/<kind>"): DESK_OF_SITE,
    ("GET", "/plant/rounds/<document>"): DESK_OF_SITE,
    ("POST", "/plant/rounds/<document>/countersigned"): DESK_OF_SITE | dict.fromkeys(["supervisor", "administrator"], 422),
    ("GET", "/plant/<document>/checklist"): DESK_OF_SITE,
    ("POST", "/plant/<document>/checklist"): DESK_OF_SITE | dict.fromkeys(["supervisor", "administrator"], 422),
    ("GET", "/plant/<document>/checklist.yaml"): DESK_OF_SITE,
    ("GET", "/plant/<document>/register"): DESK_OF_SITE,
    ("POST", "/plant/<document>/register"): DESK_OF_SITE | dict.fromkeys(["supervisor", "administrator"], 422),
    ("GET", "/plant/<document>/register/<any('sections', 'devices', 'switches', 'points'):name>.csv"): DESK_OF_SITE,
    ("GET", "/plant/<document>/over-time"): DESK_OF_SITE,
    ("POST", "/plant/<document>/set-aside"): DESK_OF_SITE | dict.fromkeys(["supervisor", "administrator"], 422),
    ("GET", "/plant/defects"): DESK,
    ("GET", "/plant/defects/<document>"): DESK_OF_SITE,
    ("POST", "/plant/defects/<document>/closed"): DESK_OF_SITE | dict.fromkeys(["supervisor", "administrator"], 422),
    ("GET", "/plant/<any(rounds, defects):room>/<document>/photos/<sha256>"): DESK_OF_NOBODY,
    ("POST", "/plant/adjustments/<document>/settled"): DESK_OF_SITE | dict.fromkeys(["supervisor", "administrator"], 400),
    ("GET", "/plant/due"): DESK,
    ("GET", "/plant/fed"): DESK,
    ("GET", "/plant/refills"): DESK,
    ("GET", "/plant/tonight"): DESK,
    ("POST", "/plant/tonight"): DESK_OF_NOBODY | dict.fromkeys(["supervisor", "administrator", "outsider"], 422),
    ("GET", "/plant/tonight/<check>"): DESK_OF_NOBODY,
    ("POST", "/plant/tonight/<check>/stop"): DESK_OF_NOBODY,
    ("POST", "/units"): dict.fromkeys(EVERYBODY, 400) | {"anonymous": SIGN_IN},
    ("POST", "/api/session"): dict.fromkeys(EVERYBODY, 400),
    ("GET", "/api/session"): ANYBODY_SIGNED_IN,
    ("DELETE", "/api/session"): EVERYBODY,
    ("GET", "/api/token"): EVERYBODY,
    ("GET", "/api/demo"): NOT_HERE,
    ("GET", "/health"): EVERYBODY,
    ("POST", "/sync/send"): dict.fromkeys(EVERYBODY, 400) | {"anonymous": 401},
    ("GET", "/sync/feed"): ANYBODY_SIGNED_IN,
    ("PUT", "/sync/photos/<sha256>"): NOT_HERE | {"anonymous": 401},
    ("GET", "/sync/photos/<sha256>"): NOT_HERE | {"anonymous": 401},
}


def routes(app):
    return {(method, rule.rule) for rule in app.url_map.iter_rules() for method in rule.methods - {"HEAD", "OPTIONS"}}


def test_every_route_is_in_the_table_and_the_table_names_no_other(app):
    assert routes(app) == set(TABLE)


@pytest.fixture
def documents(hand):
    """Documents on the cast's site, by the part of the address that wants them."""
    system = a_system()
    made = {PAPER_OF.get(kind, kind + "s"): a_record(kind, system) for kind in ("defect", "adjustment", *PAPER_OF)}
    hand("technician").send(a_revision(system), *map(a_revision, made.values()))
    return {**{part: one["id"] for part, one in made.items()}, "": system["id"]}


def address(rule, documents):
    """The rule with a document of the kind it wants, or a name nobody has."""
    document = documents[next(part for part in documents if part in rule)]
    path = rule.replace("<document>", document).replace("<any('engine.json', 'engine-version.json', 'catalogue.json', 'units.json'):name>", "units.json").replace("<kind>", "note").replace(
        "<any('sections', 'devices', 'switches', 'points'):name>", "points").replace("<any(rounds, defects):room>", "defects")
    return re.sub("<[^>]*>", "00000000-0000-4000-8000-000000000000", path)


def outcome(reply):
    return SIGN_IN if reply.status_code == 302 and reply.location == "/" else reply.status_code


@pytest.mark.parametrize("who", EVERYBODY)
def test_a_route_answers_each_role_as_the_table_says(app, hand, documents, who):
    """A browser each, since signing out is among the routes."""
    for (method, rule), wanted in TABLE.items():
        browser = hand(None if who == "anonymous" else who)
        path = address(rule, documents)
        if method == "GET":
            reply = browser.get(path)
        elif rule.startswith(("/api", "/sync")):
            reply = browser.write(method, path, {})
        else:
            reply = browser.http.post(path, data={"csrf_token": browser.token()})
        expected = SIGN_IN if rule == "/sign-out" else wanted[who]
        assert outcome(reply) == expected, (method, rule, who)


@pytest.mark.parametrize("who, status", [("technician", 403), ("supervisor", 403), ("administrator", 302)])
def test_only_an_administrator_adds_people(hand, who, status):
    browser = hand(who)
    form = {"name": "new", "password": "long enough", "role": "technician", "sites": "North works", "csrf_token": browser.token()}
    assert browser.http.post("/people", data=form).status_code == status
    assert hand().sign_in("new", "long enough").status_code == (200 if status == 302 else 401)


@pytest.mark.parametrize("host, status", [("localhost:8080", 200), ("127.0.0.1", 200), ("[::1]:8080", 200), ("[::1]", 200),
                                          ("plant.example", 403), ("10.0.0.5:8080", 403), ("localhost.plant.example", 403)])
def test_the_demo_answers_by_a_loopback_name_only(database, host, status):
    app = create_app(database, SECRET, demo=True)
    assert app.test_client().get("/api/demo", headers={"Host": host}).status_code == status
    app.extensions["store"].close()
