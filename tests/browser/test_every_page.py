"""Every page, light and dark, narrow and wide: nothing for axe to find, nothing cut off, everything large enough for a glove."""
import json
from pathlib import Path

import pytest

from webapp.engine.document.record_fields import ADDED

from .bench import DEFECT, HEAD_RIG, PASSWORD, PLANER, RESAW, ROUND, RUN, SORTER, STACKER, TRIM_SAW

AXE = Path(__file__).parents[2] / "static" / "node_modules" / "axe-core" / "axe.min.js"
GLOVE = 48
LONG = "Infeed conveyor head shaft bearing, operator side, behind the guard with the yellow plate, second from the left"
PHONE_PAGES = (
    ("/app/", "text=Everything else holds"), ("/app/systems", ".rows"), ("/app/systems/" + SORTER, "text=Along the line"),
    ("/app/systems/" + PLANER, "text=longer than it did"), ("/app/systems/%s/over-time" % PLANER, "text=Every reading"),
    ("/app/systems/%s/edit/machine" % SORTER, ".answer .value"), ("/app/systems/%s/edit/lubricant" % SORTER, ".answer .value"),
    ("/app/systems/%s/edit/line" % SORTER, ".spine"), ("/app/systems/%s/edit/sensing" % SORTER, ".answer .value"),
    ("/app/systems/%s/edit/wiring" % SORTER, ".answer .value"), ("/app/systems/%s/setting-up" % HEAD_RIG, ".setting"),
    ("/app/systems/%s/test-run" % HEAD_RIG, ".caution"), ("/app/systems/%s/round" % HEAD_RIG, ".spine > li.now"),
    ("/app/systems/%s/rounds" % HEAD_RIG, ".rows"), ("/app/systems/%s/rounds/%s" % (HEAD_RIG, ROUND), ".spine"),
    ("/app/systems/%s/checklist" % HEAD_RIG, ".spine"),
    ("/app/systems/%s/fault-finding" % HEAD_RIG, ".caution"), ("/app/systems/%s/what-if" % HEAD_RIG, "#f-fault"),
    ("/app/systems/%s/records" % PLANER, "text=filled in"), ("/app/systems/%s/records/%s" % (HEAD_RIG, RUN), "text=Runs"),
    ("/app/systems/%s?point=P1" % HEAD_RIG, "text=Confirmed fed"), ("/app/systems/" + STACKER, "text=Along the line"),
    ("/app/systems/%s/defects" % HEAD_RIG, "main"), ("/app/systems/%s/defects/new" % HEAD_RIG, ".choices"),
    *(("/app/systems/%s/add/%s" % (HEAD_RIG, kind), ".field, .choices") for kind in ADDED), ("/app/refills", ".rows"), ("/app/to-send", "main"), ("/app/this-phone", "fieldset"),
    ("/app/systems/new", ".parts"), ("/app/no-such-page", "main"))
# these differ by kind, and take the phone long to work
PAGES_OF_A_KIND = (("season", "svg.drawing"), ("design", "text=What moves the answer most"), ("figures", "input[type=range]"),
                   ("edit/line", ".spine"), ("test-run", ".caution"))
KINDS = (SORTER, TRIM_SAW, STACKER, RESAW)
DESK_PAGES = ("/plant", "/plant/" + HEAD_RIG, "/plant/%s/checklist" % HEAD_RIG, "/plant/rounds/" + ROUND, "/plant/" + PLANER, "/plant/%s/over-time" % PLANER,
               "/plant?state=holds&area=Log+yard", "/plant/tonight", "/plant/defects", "/plant/defects/" + DEFECT, "/plant/due",
              "/plant/refills", "/plant/fed", "/calendar",
              "/plant/" + PLANER + "/round", "/plant-file", "/people", "/no-such-page")


def axe_finds(page):
    """What axe finds wrong: [(rule, first element)]."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("() => axe.run({ resultTypes: ['violations'] })")
    return [(one["id"], one["nodes"][0]["html"][:120]) for one in found["violations"]]


def cut_off(page):
    """True when the page scrolls sideways."""
    return page.evaluate("() => document.scrollingElement.scrollWidth > window.innerWidth")


def too_small(page):
    """Visible controls lower than a glove needs."""
    return page.evaluate("""(least) => [...document.querySelectorAll('button, select, summary, nav a, .rows a, input:not([type=checkbox]):not([type=radio]):not([type=hidden])')]
        .filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < least - 0.5)
        .map((one) => one.outerHTML.slice(0, 100))""", GLOVE)


def problems(page, narrow):
    found = {"axe": axe_finds(page), "cut off": cut_off(page), "too small": too_small(page) if narrow else []}
    return {name: thing for name, thing in found.items() if thing}


def long_names(phone, system):
    """Give everything in a system the longest name that anybody would type."""
    phone.open("/app/systems/" + system)
    phone.by_modules("""async ([id, long]) => {
        const { get, save } = await import('/static/app/documents.js');
        const { body } = await get(id);
        await save('system', id, { ...body, name: long, area: long, points: body.points.map((one) => ({ ...one, name: `${long} ${one.id}` })) });
    }""", [system, LONG])


def of_kinds(systems):
    return [("/app/systems/%s/%s" % (system, page), there) for system in systems for page, there in PAGES_OF_A_KIND]


# both themes and both widths, each kind in one of them; each with each by --all-cases
LOOKS = [("light", 1280, KINDS[:2]), ("dark", 360, KINDS[2:])]
ALL_LOOKS = [(theme, width, KINDS) for theme in ("light", "dark") for width in (1280, 360)]


def pytest_generate_tests(metafunc):
    if "width" in metafunc.fixturenames:
        metafunc.parametrize("theme, width, systems", ALL_LOOKS if metafunc.config.getoption("--all-cases") else LOOKS)


def test_of_the_phone(new_phone, theme, width, systems):
    phone = new_phone("technician", color_scheme=theme, viewport={"width": width, "height": 740 if width < 600 else 800})
    phone.open("/app/sign-in")
    found = {"/app/sign-in": problems(phone.page, width < 600)}
    for path, there in (*PHONE_PAGES, *of_kinds(systems)):
        phone.open(path)
        phone.page.wait_for_selector(there)
        found[path] = problems(phone.page, width < 600)
    assert [(path, thing) for path, thing in found.items() if thing] == []


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_of_the_desk(new_phone, theme):
    desk = new_phone(color_scheme=theme, viewport={"width": 1280, "height": 800})
    desk.open("/")
    found = {"/": problems(desk.page, False)}
    form = desk.page.locator("form.narrow")
    form.get_by_label("Name").fill("administrator")
    form.get_by_label("Password").fill(PASSWORD)
    form.get_by_role("button").click()
    desk.page.wait_for_url("**/plant")
    for path in DESK_PAGES:
        for width in (1280, 360):
            desk.page.set_viewport_size({"width": width, "height": 800})
            desk.open(path)
            found[path, width] = problems(desk.page, width < 600)
    assert [(path, thing) for path, thing in found.items() if thing] == []


def test_with_the_longest_names_without_signal_with_errors_and_in_us_units(server, phone):
    phone.open("/app/this-phone")
    phone.page.get_by_label("US: psi, in³, in, °F").check()
    phone.page.get_by_label("Sun: black on white").check()
    long_names(phone, SORTER)
    server.stop()
    found = {}
    for path, there in (*PHONE_PAGES, *of_kinds([SORTER])):
        phone.open(path)
        phone.page.wait_for_selector(there.replace("text=Everything else holds", ".verdict").replace(".answer .value", ".field"))
        if path.endswith("/edit/line"):  # from here on the draft holds what cannot be read, and the forms no figures
            phone.enter("pump.relief_bar", "a lot of psi, as the plate says in its smallest letters")
            phone.page.locator(".field-error").first.wait_for()
        found[path] = problems(phone.page, True)
    assert [(path, thing) for path, thing in found.items() if thing] == []
    phone.open("/app/systems/" + SORTER)
    phone.wait_worked()
    text = phone.page.inner_text("main")
    assert "psi" in text and " bar" not in text and json.dumps(LONG)[1:20] in text
