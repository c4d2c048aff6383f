"""What a phone feels, measured in Debian's Chromium against a demo server: bytes, first figure, figure while typing, simulation."""
import shutil
from contextlib import contextmanager
from pathlib import Path
from statistics import median

from playwright.sync_api import sync_playwright

from .serving import Relay, demo

SLOWER = 4
_OPENINGS = 5
# nothing asks the page while it opens: what a driver runs in it would be timed as well
_LEFT_ALONE_MS = 4000
_LOOPS = 8
_CALIBRATIONS = 7
_KEYS = ("End", "Backspace", "0", "Backspace", "5", "Backspace", "0", "Backspace", "0")
MAIN_THREAD = (Path(__file__).parent / "main-thread-worker.js").read_text()
SAVE = """async (body) => {
  await (await import('/static/app/session.js')).resume();
  const { save } = await import('/static/app/documents.js');
  await save('system', body.id, body, {});
}"""
_WATCH = """() => {
  window.keys = [];
  window.figures = [];
  document.addEventListener('input', (event) => keys.push(event.timeStamp), true);
  new PerformanceObserver((list) => figures.push(...list.getEntriesByName('figures shown').map((one) => one.startTime)))
    .observe({ type: 'mark' });
}"""
_FIRST_FIGURES = "() => ['figures shown', 'figures worked'].map((name) => performance.getEntriesByName(name)[0]?.startTime)"
_LOOP = """() => {
  const start = performance.now();
  let sum = 0;
  for (let k = 0; k < 3e6; k++) sum += Math.sqrt(k) % 3;
  return [performance.now() - start, sum][0];
}"""
_SIMULATE = """async (body) => {
  const { askHeavy } = await import('/static/app/engine.js');
  const start = performance.now();
  const answer = await askHeavy({ do: 'work', document: body, keep_traces: true });
  if (!answer.traces.coldest.completed) throw new Error('the timed line does not complete its cycle');
  return performance.now() - start;
}"""
_ONE_CYCLE = """async (body) => {
  const { askHeavy } = await import('/static/app/engine.js');
  const record = { runs: [{ build_s: 60 }], at_c: body.ambient.coldest_c };
  const start = performance.now();
  const answer = await askHeavy({ do: 'verdict', document: body, record });
  if (!answer.predicted_low) throw new Error('the timed line does not trip');
  return performance.now() - start;
}"""

_ALL_MOMENTS = """() => {
    const slider = document.querySelector('input[type=range]');
    const began = performance.now();
    for (let moment = 0; moment <= Number(slider.max); moment += 1) {
        slider.value = String(moment);
        slider.dispatchEvent(new Event('input'));
        document.querySelector('.scrub').getBoundingClientRect();
    }
    return (performance.now() - began) / (Number(slider.max) + 1);
}"""


@contextmanager
def chromium():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()


def sign_in(page, port):
    """A first visit: signs in, and waits until everything works without signal."""
    page.goto("http://localhost:%d/app/" % port)
    page.get_by_role("button", name="Open the demo as technician").click()
    page.get_by_role("heading", name="Today").wait_for()
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.wait_for_load_state("networkidle")


def slowed(page, times):
    """Slow the page's own thread."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": times})


def first_visit(browser, port):
    """Bytes of a first visit: (what comes down but the plant's records, the records, what goes up)."""
    relay, records = Relay(port), []
    context = browser.new_context()
    context.on("requestfinished", lambda request: records.append(request.sizes()) if "/sync/feed" in request.url else None)
    sign_in(context.new_page(), relay.port)
    context.close()
    relay.close()
    fed = sum(sizes["responseBodySize"] + sizes["responseHeadersSize"] for sizes in records)
    return relay.down - fed, fed, relay.up


def _prepared(browser, port, document, script=None):
    context = browser.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    sign_in(page, port)
    page.evaluate(SAVE, document)
    page.close()
    if script:
        context.add_init_script(script)
    return context


def _opened(context, port, document):
    """The calculator page opened by a slowed page of its own; (page, ms until a figure shows, ms until the engine has worked it)."""
    page = context.new_page()
    slowed(page, SLOWER)
    page.goto("http://localhost:%d/app/systems/%s/edit/line" % (port, document["id"]), wait_until="commit")
    page.wait_for_timeout(_LEFT_ALONE_MS)
    page.wait_for_function("() => performance.getEntriesByName('figures worked').length > 0")
    return page, *page.evaluate(_FIRST_FIGURES)


def _typed(page):
    """Milliseconds from each key in the field of the pump's delivery to its figure."""
    page.evaluate(_WATCH)
    page.locator("#f-pump-delivery_cm3_min").focus()
    for key in _KEYS:
        page.keyboard.press(key)
        page.wait_for_function("() => figures.length === keys.length")
    return [shown - pressed for pressed, shown in zip(*page.evaluate("() => [keys, figures]"))]


def calculator(browser, port, document, main_thread=True):
    """Of several cold openings by a slowed page [ms]: the quickest figure that shows (from the phone's storage), the quickest that
    the engine has worked, and the least median from key to figure.

    main_thread  the engine runs there and is slowed as well; False: in its worker, as people have it, not slowed
    """
    context = _prepared(browser, port, document, MAIN_THREAD if main_thread else None)
    shown, worked, keys = [], [], []
    for _ in range(_OPENINGS):
        page, first, first_worked = _opened(context, port, document)
        shown.append(first)
        worked.append(first_worked)
        keys.append(median(_typed(page)))
        page.close()
    context.close()
    return min(shown), min(worked), min(keys)


def simulation(browser, port, document):
    """In the worker, not slowed: the quickest whole result of the line and the quickest single cycle, simulated to judge
    a test run [ms]; and how much the slowing slows a loop."""
    context = _prepared(browser, port, document)
    page = context.new_page()
    page.goto("http://localhost:%d/app/" % port)
    times = [page.evaluate(_SIMULATE, document) for _ in range(_OPENINGS)]
    single = [page.evaluate(_ONE_CYCLE, document) for _ in range(_OPENINGS)]
    factor = median(_slowing(page) for _ in range(_CALIBRATIONS))
    context.close()
    return min(times), min(single), factor


def _slowing(page):
    """How much slower a loop is right now with the slowing than without: the quickest of several each, in turn."""
    slowed(page, 1)
    plain = min(page.evaluate(_LOOP) for _ in range(_LOOPS))
    slowed(page, SLOWER)
    return min(page.evaluate(_LOOP) for _ in range(_LOOPS)) / plain


def scrubbing(browser, port, system):
    """Milliseconds of one move of the slider over the predicted cycle of one of the demo's systems, the page slowed."""
    context = browser.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    sign_in(page, port)
    page.goto("http://localhost:%d/app/systems/%s/figures" % (port, system))
    page.get_by_role("slider", name="Moment of the cycle").wait_for()
    page.wait_for_timeout(_LEFT_ALONE_MS)
    slowed(page, SLOWER)
    milliseconds = page.evaluate(_ALL_MOMENTS)
    context.close()
    return milliseconds
