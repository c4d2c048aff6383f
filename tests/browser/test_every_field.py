"""Every field of every kind: the form asks what the catalogue says of the kind and no more; what is typed comes back as typed."""
import copy
import re

import pytest

from demo_site import plant
from webapp.engine.basics.kinds import KINDS
from webapp.engine.document.catalogue import RANGE_FIELDS, SYSTEM

from .bench import eventually

PARTS = ("machine", "lubricant", "line", "sensing", "wiring")
SIMPLE = ("number", "whole", "text", "choice", "bool")
ENTRIES = {entry["path"]: entry for entry in SYSTEM}
# not in the form: what runs have measured is entered by a run
NOT_ASKED = re.compile(r"^measured|^baseline_run$|^id$")
# what a field holds that nobody has filled in yet, where its default or the middle of its range would not do
FITTING = {"pump.low_level_l": 0.5, "pump.not_drawn_l": 0.2, "pump.starting_current_a": 12, "pump.power_factor": 0.8,
           "lubricant.v40_mm2_s": 150, "lubricant.v100_mm2_s": 15, "lubricant.viscosity_index": 95, "lubricant.coldest_c": -40,
           "lubricant.hottest_c": 120, "lubricant.yield_pa": 300, "lubricant.consistency_pa_sn": 20, "lubricant.flow_index": 0.5,
           "lubricant.penetration": 320, "choices.cycles_per_event": 1, "vent_valve.current_a": 0.7,
           "vent_valve.flow_cm3_min_per_bar": 40, "wiring.cable_m": 12, "wiring.conductor_mm2": 2.5, "wiring.awg": 12,
           "wiring.vent_cable_m": 3, "wiring.vent_conductor_mm2": 1.5, "wiring.vent_awg": 14, "wiring.fuse_a": 10,
           "controller.outputs_a": 5, "controller.fuse_a": 8, "controller.alarm_a": 2, "controller.alarm_load_a": 0.2,
           "machine_contact.longest_stand_h": 64, "sections[].ambient.coldest_c": -20, "sections[].ambient.usual_c": 0,
           "sections[].ambient.hottest_c": 30, "choices.pipe_prices[].bore_mm": 12, "choices.pipe_prices[].price_per_m": 9,
           "points[].need.speed_rpm": 300, "points[].need.width_mm": 20, "points[].need.bore_mm": 40, "points[].need.outer_mm": 80,
           "points[].need.rows": 1, "points[].need.film_mm": 0.03, "points[].need.every_h": 8, "points[].need.area_cm2": 20,
           "points[].need.shaft_mm": 50, "points[].need.length_mm": 60, "points[].need.pitch_mm": 200, "points[].need.slide_mm": 400,
           "points[].need.pin_mm": 8, "points[].need.bush_mm": 15, "points[].need.links": 90, "points[].need.running_c": 65,
           "sections[].expansion_cm3_per_m_per_100bar": 0.5}
NEEDS = ({"method": "rolling", "bore_mm": 40, "outer_mm": 80, "width_mm": 18, "speed_rpm": 60, "variant": "A"},
         {"method": "rolling", "bore_mm": 40, "outer_mm": 80, "width_mm": 18, "speed_rpm": 60, "variant": "B"},
         {"method": "film", "area_cm2": 20, "film_mm": 0.03, "every_h": 8}, {"method": "stated", "cm3_per_h": 0.02})


def body_of(kind):
    """A system of a kind with a need of each method, a hose, and a price."""
    body = copy.deepcopy(next(system for system in plant.systems() if system["kind"] == kind and system["name"] != "Sorter chain"))
    for point, need in zip(body["points"], NEEDS, strict=False):
        point["need"] = dict(need)
    body["sections"][0]["wall"] = "hose"
    body["pump"]["supply"] = "ac"
    body.setdefault("choices", {})["pipe_prices"] = [{"bore_mm": 12, "price_per_m": 9}]
    body.pop("measured", None)
    return body


def at(body, place):
    thing = body
    for step in re.findall(r"[^.\[\]]+", place):
        thing = thing[int(step)] if step.isdecimal() else (thing or {}).get(step)
        if thing is None:
            return None
    return thing


def asked(body, place):
    """Whether the catalogue's `when` of a place and of all groups around it allows it."""
    steps = re.findall(r"\[\d+\]|[^.\[\]]+", place)
    for end in range(1, len(steps) + 1):
        here = "".join(step if step.startswith("[") or not k else "." + step for k, step in enumerate(steps[:end]))
        entry = ENTRIES.get(re.sub(r"\[\d+\]", "[]", here))
        if entry and entry["when"]:
            sibling, values = entry["when"]
            beside = "kind" if sibling == "kind" else here.rpartition(".")[0] + "." + sibling
            if (at(body, beside) or ENTRIES[re.sub(r"\[\d+\]", "[]", beside)]["default"]) not in values:
                return False
    return True


def places(body, path):
    """Places of a catalogue's path in a body."""
    start, is_list, rest = path.partition("[]")
    if not is_list:
        return [path]
    return [place for k in range(len(at(body, start) or [])) for place in places(body, "%s[%d]%s" % (start, k, rest))]


def wanted(body):
    """Every place that the form of this body should ask for, from the catalogue alone."""
    return [place for path, entry in ENTRIES.items() if entry["kind"] in SIMPLE and not NOT_ASKED.match(path)
            for place in places(body, path) if asked(body, place)]


def html_id(place):
    return "f-" + re.sub(r"[^\w]", "-", place)


class Form:
    """The form on a phone, gone through part by part with every entry of the walk open once."""

    def __init__(self, phone, system):
        self.phone, self.system = phone, system

    def each_view(self):
        """Every view of the form after the other, each part loaded anew."""
        page = self.phone.page
        for part in PARTS:
            path = "/app/systems/%s/edit/%s" % (self.system, part)
            self.phone.open(path)
            page.wait_for_selector("nav.parts a[aria-current][href='%s']" % path)
            page.wait_for_selector("main .field")
            if part == "machine":
                page.evaluate("() => document.querySelectorAll('main details').forEach((one) => { one.open = true; })")
                yield
            elif part == "line":
                for k in range(page.locator(".spine .quiet[aria-label^=Change]").count()):
                    page.locator(".spine .quiet[aria-label^=Change]").nth(k).click()
                    page.locator(".spine").get_by_role("button", name="Done").wait_for()
                    page.evaluate("() => document.querySelectorAll('main details').forEach((one) => { one.open = true; })")
                    yield
                    page.locator(".spine").get_by_role("button", name="Done").click()
            else:
                yield

    def ids(self):
        return self.phone.page.evaluate("""() => [...document.querySelectorAll('main .field input, main .field select')]
            .map((one) => one.id || one.closest('.field').textContent.trim())""")


@pytest.fixture
def saved(server, phone):
    """Keeps a system on the phone, then stops the server."""
    phone.open("/app/to-send")

    def save(body):
        phone.by_modules("""async (body) => {
            const { get, save } = await import('/static/app/documents.js');
            await save('system', body.id, body, { from: (await get(body.id))?.revision });
        }""", body)
        server.stop()
    return save


def assert_asked(body, shown):
    """The ids of fields shown are those that the catalogue asks of a system."""
    labels = {entry["label"] for entry in ENTRIES.values() if entry["kind"] == "bool"}
    ranges = {"%s.%s" % (path, one["path"]) for path, entry in ENTRIES.items() if entry["kind"] == "ranges" and asked(body, path)
              for one in RANGE_FIELDS}
    allowed = {html_id(place) for place in wanted(body)} | {html_id(place) for place in ranges}
    not_simple = re.compile(r"^f-(switches-\d--(id|counts)|devices-\d+--(hangs_from|outlets-\d+-))$")
    too_much = {one for one in shown if one.startswith("f-") and one not in allowed and not not_simple.match(one)}
    assert too_much == set()
    # of a point only the method's own sizes are asked, which the catalogue does not all tell apart
    missing = {html_id(place) for place in wanted(body) if not re.match(r"points\[\d+\]\.need\.", place)
               and ENTRIES[re.sub(r"\[\d+\]", "[]", place)]["kind"] != "bool"
               and not re.match(r"sections\[[1-9]\d*\]\.expansion", place)} - shown
    assert missing == set() and any(label in one for one in shown for label in labels)


def us_texts(phone, values):
    """{place: text}: values as somebody types them who thinks in US units."""
    rows = [[place, (ENTRIES.get(re.sub(r"\[\d+\]", "[]", place)) or {"unit": "s"})["unit"], value] for place, value in values.items()]
    return dict(phone.by_modules("""async (rows) => {
        const { loadUnits, preferred, toText } = await import('/static/app/units.js');
        await loadUnits();
        return rows.map(([place, unit, value]) => {
            const name = unit === 's' ? 'min' : unit === 'A' ? 'mA' : unit === 'mm²' ? 'kcmil' : preferred(unit, 'us');
            return [place, `${toText(value, unit, name)} ${name}`.trim()];
        });
    }""", rows))


def to_type(body):
    """{place: value} of every field with a unit that a form of this body asks for."""
    out = {}
    for place in wanted(body):
        path = re.sub(r"\[\d+\]", "[]", place)
        entry = ENTRIES[path]
        if entry["unit"]:
            value = at(body, place)
            out[place] = value if value is not None else FITTING.get(path, entry["default"])
            assert out[place] is not None, "say in FITTING what %s may hold" % path
    for path, entry in ENTRIES.items():
        ranges = at(body, path) if entry["kind"] == "ranges" and asked(body, path) else []
        for k, one in enumerate(ranges if isinstance(ranges, list) else [ranges]):
            start = "%s[%d]" % (path, k) if isinstance(ranges, list) else path
            out.update({"%s.%s" % (start, name): one[name] for name in ("min_s", "max_s", "step_s")})
    return out


@pytest.mark.parametrize("kind", KINDS)
def test_a_form_asks_what_its_kind_needs_and_shows_again_what_was_typed_in_us_units(phone, saved, kind):
    body = body_of(kind)
    texts, typed, shown = us_texts(phone, to_type(body)), {}, set()
    saved(body)
    form = Form(phone, body["id"])
    for _ in form.each_view():
        there = set(form.ids())
        shown |= there
        for place, text in texts.items():
            if html_id(place) in there and place not in typed:
                typed[place] = text
                phone.page.fill("#" + html_id(place), text)
        # no finger leaves a page as fast as this: all of it is to be on disk first
        eventually(lambda: typed.items() <= (phone.kept("drafts", "edit:" + body["id"]) or {"typed": {}})["typed"].items())
    assert_asked(body, shown)
    unseen = {re.sub(r"\[\d+\]", "[]", place) for place in texts} - {re.sub(r"\[\d+\]", "[]", place) for place in typed}
    assert {path for path in unseen if not path.startswith("points[].need.")} == set()
    phone.page.locator(".foot .answer .value").filter(has_text=",").wait_for()
    assert phone.page.locator(".field-error").all_inner_texts() == []
    phone.page.locator(".foot button.main").click()
    phone.wait_title(body["name"])
    assert phone.kept("drafts", "edit:" + body["id"]) is None
    seen = {}
    for _ in form.each_view():
        seen.update(phone.page.evaluate("() => [...document.querySelectorAll('main input[id]')].map((one) => [one.id, one.value])"))
    assert {place: (seen.get(html_id(place)), text) for place, text in typed.items() if seen.get(html_id(place)) != text} == {}
