"""A long round on a phone that holds two years of weekly ones: how soon its page opens, how soon the next item shows after a tap."""
import time
from datetime import datetime, timedelta, timezone
from statistics import median

from webapp.engine.bridge import ask

from .phone import MAIN_THREAD, SAVE, SLOWER, sign_in, slowed

WEEKS = 104
_OPENINGS = 5
_TAPS = 20
_STARTED_S = 5  # by then the engine, started once the page stood, is ready
# nothing of it waits to be sent: it is held as from years before
_SAVE_ROUNDS = """async (rounds) => {
  const { saveAll } = await import('/static/app/documents.js');
  const { change } = await import('/static/app/database.js');
  await saveAll(rounds.map((body) => ({ kind: 'round', document: body.id, body })));
  await change(['outbox'], (tx) => tx.objectStore('outbox').clear());
}"""
# as Today does once it has shown itself
_PREPARE = """async (id) => {
  const { get } = await import('/static/app/documents.js');
  await (await import('/static/app/checklist.js')).itemsOfRound(await get(id), null);
}"""
_WATCH = """new MutationObserver((_, observer) => {
  if (!document.querySelector('.spine > li.now')) return;
  observer.disconnect();
  requestAnimationFrame(() => setTimeout(() => { window.shownAt = performance.now(); }));
}).observe(document, { childList: true, subtree: true });"""
# from the tap until the frame in which the next item is open has been drawn
_TAP = """() => new Promise((done) => {
  const now = () => document.querySelector('.spine > li.now');
  const [before, start] = [now(), performance.now()];
  const look = () => (now() === before ? requestAnimationFrame(look) : requestAnimationFrame(() => setTimeout(() => done(performance.now() - start))));
  before.querySelector('button.ok').click();
  look();
})"""
_OPEN_NEXT = """() => [...document.querySelectorAll('.spine > li button')].find((one) => /^Answer (Feed line|Fresh film)/.test(one.ariaLabel)).click()"""


def weekly(document, weeks=WEEKS):
    """Signed rounds of a system, one a week up to a week ago, each item answered as it was due."""
    items = ask({"do": "checklist", "document": document})["items"]
    end = datetime.now(timezone.utc)
    for week in range(weeks, 0, -1):
        at = (end - timedelta(weeks=week)).isoformat(timespec="seconds")
        answered = [dict({"id": item["key"], "where": item["where"], "ask": item["says"], "at": at, "by": "technician"}, **(
            {"answer": "reading", "value": 1, "unit": item["unit"]} if item["unit"] else {"answer": "ok"}))
            for item in items if item["every"] == "round" or week % 4 == 1]
        yield {"format": "round/1", "id": "00000000-0000-4000-8000-%012d" % week, "system": document["id"], "made_at": at,
               "made_by": "technician", "items": answered, "signed": {"by": "technician", "at": at}}


def long_round(browser, port, document, main_thread=True):
    """(items asked, rounds held, ms until the page shows the first item: the quickest of several cold openings, ms from a tap to
    the next item while the engine starts, the same once it has: medians), the page slowed; main_thread: the engine runs there and
    is slowed as well."""
    context = browser.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    sign_in(page, port)
    page.evaluate(SAVE, document)
    page.evaluate(_SAVE_ROUNDS, list(weekly(document)))
    page.evaluate(_PREPARE, document["id"])
    context.add_init_script(_WATCH)
    if main_thread:
        context.add_init_script(MAIN_THREAD)
    opened = []
    for _ in range(_OPENINGS):
        page.close()  # a page in the background would go on starting its engine
        page = context.new_page()
        slowed(page, SLOWER)
        page.goto("http://localhost:%d/app/systems/%s/round" % (port, document["id"]), wait_until="commit")
        page.wait_for_function("() => window.shownAt")
        opened.append(page.evaluate("() => window.shownAt"))
        asked = int(page.inner_text("h1").split()[-1])
    page.evaluate(_OPEN_NEXT)
    taps = []
    for pause in (0, _STARTED_S):
        time.sleep(pause)
        taps.append(median(page.evaluate(_TAP) for _ in range(_TAPS)))
    context.close()
    return asked, WEEKS, min(opened), *taps
