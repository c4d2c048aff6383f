"""Marks have the same lines on the phone as on papers and at the desk; moved without a pointer they stay on the picture."""
import json
import random
import re
import subprocess

import pytest

from webapp.clock import Clock
from webapp.phone_engine import node_command
from webapp.reports.photos import photo

MARKS = "static/app/photo-marks.js"
SIZES = [(1600, 1200), (1200, 1600), (320, 100)]


def on_phone(script, argument):
    """What a script answers that has the module as `marks` and the argument as `asked`."""
    text = "import * as marks from './%s'; console.log(JSON.stringify((%s)(%s)));" % (MARKS, script, json.dumps(argument))
    command = [node_command(), "--input-type=module", "-e", text]
    return json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def some_marks(seed, count=30):
    chance = random.Random(seed)
    made = [{name: round(chance.uniform(-0.2, 1.2), 4) for name in ("x1", "y1", "x2", "y2")} for _ in range(count)]
    made.append(dict.fromkeys(("x1", "y1", "x2", "y2"), 0.5))  # of no length
    return [dict(one, shape=chance.choice(["arrow", "circle"])) for one in made]


def letters_and_numbers(path):
    return re.findall("[A-Za-z]", path), [float(number) for number in re.findall(r"-?[\d.]+", path)]


@pytest.mark.parametrize("width, height", SIZES)
def test_the_phone_draws_the_lines_of_the_papers(width, height):
    marks = some_marks(width)
    drawn = on_phone("([all, size]) => all.map((one) => marks.lines(one, size))", [marks, {"width": width, "height": height}])
    svg = str(photo({"sha256": "ab" * 32, "width": width, "height": height, "marks": marks}, "", True, Clock())["svg"])
    printed = re.findall('<path class="mark" d="([^"]+)"', svg)
    assert len(drawn) == len(printed) == len(marks)
    for mine, theirs in zip(drawn, printed):
        (commands, numbers), (wanted, values) = letters_and_numbers(mine), letters_and_numbers(theirs)
        assert commands == wanted and numbers == pytest.approx(values, abs=0.051)


# a mark after each change: the mark itself, or one that is put in the middle
CHANGED = """({ mark, shape, size, names }) => {
    let one = mark ?? marks.inTheMiddle(shape);
    return names.map((name) => { one = marks.CHANGES.find(([change]) => change === name)[3](one, size); return one; });
}"""


def changed(mark, *names):
    return on_phone(CHANGED, {"mark": mark, "size": {"width": 1600, "height": 1200}, "names": names})[-1]


def test_a_mark_is_moved_made_larger_and_turned_about_what_it_shows():
    arrow = {"shape": "arrow", "x1": 0.3, "y1": 0.5, "x2": 0.5, "y2": 0.5}
    circle = {"shape": "circle", "x1": 0.5, "y1": 0.5, "x2": 0.7, "y2": 0.5}
    assert changed(arrow, "Left", "Left", "Down") == dict(arrow, x1=0.24, y1=0.53, x2=0.44, y2=0.53)
    assert changed(arrow, "Right", "Up", "Left", "Down") == arrow
    assert changed(arrow, "Larger") == dict(arrow, x1=0.25) and changed(circle, "Smaller") == dict(circle, x2=0.66)
    turned = changed(arrow, *["Turn"] * 3)  # a quarter: the begin stands above the tip, as far from it in pixels
    assert turned == pytest.approx(dict(arrow, x1=0.5, y1=0.5 - 0.2 * 1600 / 1200), abs=0.001)
    assert changed(arrow, *["Turn"] * 12) == pytest.approx(arrow, abs=0.001)


@pytest.mark.parametrize("shape", ["arrow", "circle"])
@pytest.mark.parametrize("seed", range(3))
def test_whatever_is_done_to_a_mark_what_it_shows_stays_on_the_picture_and_the_record_takes_it(shape, seed):
    names = random.Random(seed).choices(["Left", "Up", "Down", "Right", "Larger", "Smaller", "Turn"], k=300)
    kept = ("x2", "y2") if shape == "arrow" else ("x1", "y1")
    for mark in on_phone(CHANGED, {"shape": shape, "size": {"width": 1200, "height": 1600}, "names": names}):
        assert all(0 <= mark[name] <= 1 for name in kept) and all(-1 <= mark[name] <= 2 for name in ("x1", "y1", "x2", "y2"))
