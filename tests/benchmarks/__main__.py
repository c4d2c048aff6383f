"""`python -m tests.benchmarks`: what this machine takes for what people wait for, as a table against the bars.

Never a test: a table tells, a timed test fails when somebody else is busy. A bar that is missed says so.
"""
from itertools import chain

from . import phone, rounds
from .forty import forty, hundred
from .machine import machine
from .papers import PHOTOS, of_the_papers
from .serving import demo
from .solver import against_scipy

KB = 1000
# what a screen shows 60 times a second
FRAME_MS = 16
STACKER = "b5ac0000-0000-4000-8000-000000000006"


def row(what, measured, bar, unit, at_least=False):
    """One line of the table; without a bar it only tells."""
    text = "%.*f %s" % (2 if unit == "s" else 0, measured, unit)
    if bar is None:
        return "%-74s %12s" % (what, text)
    kept = measured >= bar if at_least else measured <= bar
    return "%-74s %12s   %s %g %s   %s" % (what, text, ">=" if at_least else "<=", bar, unit, "kept" if kept else "missed")


def on_the_phone(browser, port):
    """Rows of what is measured in the browser."""
    down, fed, up = phone.first_visit(browser, port)
    yield row("First visit, everything kept for work without signal: down the wire", down / KB, 500, "KB")
    yield row("  the plant's records besides, two years of them", fed / KB, None, "KB")
    yield row("  the requests for it, up the wire", up / KB, None, "KB")
    shown, worked, key = phone.calculator(browser, port, forty())
    yield row("First figure after a cold open, engine on the main thread, all %d x slower" % phone.SLOWER, shown / 1000, 0.5, "s")
    yield row("  until the engine, started meanwhile, has worked it anew", worked / 1000, None, "s")
    yield row("Key to figure, 40 points, engine on the main thread, all %d x slower" % phone.SLOWER, key, 100, "ms")
    shown, worked, key = phone.calculator(browser, port, forty(), main_thread=False)
    yield row("  first figure as people have it: page slowed, engine in its worker not", shown / 1000, None, "s")
    yield row("  until the engine has worked it anew, as people have it", worked / 1000, None, "s")
    yield row("  key to figure as people have it", key, None, "ms")
    whole, single, factor = phone.simulation(browser, port, forty())
    yield row("One whole cycle simulated, 40 devices, coldest, in the worker, not slowed", single / 1000, None, "s")
    yield row("  the same x %.1f, by a loop timed with and without the slowing" % factor, single * factor / 1000, 1, "s")
    yield row("Whole result: both temperatures, doses found on the way, in the worker", whole / 1000, None, "s")
    yield row("  the same x %.1f" % factor, whole * factor / 1000, None, "s")


def of_a_round(browser, port):
    """Rows of a long round with two years of weekly ones on the phone."""
    asked, held, opened, *_ = rounds.long_round(browser, port, forty())
    yield row("Round of %d items, %d rounds held: page opened, engine on the main thread, all %d x slower" % (asked, held, phone.SLOWER),
              opened / 1000, 1, "s")
    *_, at_once, started = rounds.long_round(browser, port, forty(), main_thread=False)
    yield row("  from a tap until the next item is on the screen, engine in its worker", started, 100, "ms")
    yield row("  the same in the first seconds, while the engine starts", at_once, None, "ms")


def of_a_hundred(browser, port):
    """Rows of the line of 100 points on 60 devices."""
    yield row("One move of the slider over the predicted cycle, page %d x slower" % phone.SLOWER,
              phone.scrubbing(browser, port, STACKER), FRAME_MS, "ms")
    shown, worked, key = phone.calculator(browser, port, hundred())
    yield row("100 points on 60 devices: first figure, engine on the main thread, all %d x slower" % phone.SLOWER, shown / 1000, None, "s")
    yield row("  until the engine, started meanwhile, has worked it anew", worked / 1000, None, "s")
    yield row("  key to figure, engine on the main thread, all %d x slower" % phone.SLOWER, key, 100, "ms")
    whole, single, factor = phone.simulation(browser, port, hundred())
    yield row("  one whole cycle simulated, coldest, in the worker, not slowed", single / 1000, None, "s")
    yield row("    the same x %.1f, by a loop timed with and without the slowing" % factor, single * factor / 1000, 1, "s")
    yield row("  whole result: both temperatures, doses found on the way, in the worker", whole / 1000, None, "s")
    yield row("    the same x %.1f" % factor, whole * factor / 1000, None, "s")


def on_the_server():
    """Rows of what is measured on CPython."""
    ours, theirs, our_error, their_error = against_scipy()
    yield row("calculate with simulation, 40 devices, on CPython", ours, None, "s")
    yield row("  scipy's BDF, the two build-ups alone, to the same error", theirs, None, "s")
    yield row("  scipy over calculate (errors %.0e and %.0e of the trip time)" % (their_error, our_error), theirs / ours, 5,
              "times", at_least=True)


def on_paper():
    """Rows of a paper as PDF."""
    took = of_the_papers()
    yield row("Round report as PDF: %d pages, %d photos" % (took["pages"], PHOTOS), took["ours_s"], 2, "s")
    yield row("  headless Chromium, the same HTML, cold (%d pages)" % took["their_pages"], took["cold_s"], None, "s")
    yield row("  headless Chromium, warm", took["warm_s"], None, "s")


def main():
    with phone.chromium() as browser:
        print("%s, Chromium %s" % (machine(), browser.version), flush=True)
        with demo() as port:
            for line in chain(on_the_phone(browser, port), of_a_round(browser, port), of_a_hundred(browser, port)):
                print(line, flush=True)
    for line in chain(on_the_server(), on_paper()):
        print(line, flush=True)


if __name__ == "__main__":
    main()
