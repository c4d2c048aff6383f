"""The pictures: well-formed, styled by classes alone, labels inside and apart, with a sentence for those who cannot see them."""
import itertools
import re
import xml.etree.ElementTree as ElementTree

import pytest

from demo_site import plant
from tests.engine.systems import random_system
from webapp.engine.bridge import ask

WIDTH = 328
TEXT_HEIGHT = 9


def drawn(document, units="metric"):
    worked = ask({"do": "work", "document": document, "units": units, "keep_traces": True})
    line = ask({"do": "diagram", "document": document, "worked": worked, "width": WIDTH, "units": units})
    trace = ask({"do": "trace_picture", "document": document, "width": WIDTH, "units": units,
                 "traces": [worked["traces"]["usual"], worked["traces"]["coldest"]]})
    return line, trace


@pytest.fixture(scope="module")
def pictures():
    return [picture for system in plant.systems() for units in ("metric", "us") for picture in drawn(system, units)]


def test_they_are_well_formed_and_need_no_style_and_no_script(pictures):
    for picture in pictures:
        root = ElementTree.fromstring(picture["svg"])
        assert root.tag.endswith("svg") and root.get("role") == "img"
        names = {element.tag.rpartition("}")[2] for element in root.iter()}
        assert not names & {"style", "script", "image", "foreignObject"}
        assert not any(element.get("style") for element in root.iter())


def test_each_says_in_a_sentence_what_it_shows(pictures):
    assert all(picture["says"].endswith(".") for picture in pictures)


def texts(picture):
    """(x from, x to, y, text) of every text, by a generous estimate of its width."""
    root = ElementTree.fromstring(picture["svg"])
    for element in root.iter():
        if element.tag.endswith("text") and element.text:
            size = float(re.sub("[a-z]", "", element.get("font-size", "11")))
            wide, x = 0.5 * size * len(element.text), float(element.get("x", 0))
            left = x - wide * {"middle": 0.5, "end": 1}.get(element.get("text-anchor"), 0)
            yield left, left + wide, float(element.get("y", 0)), element.text


def test_no_label_is_cut_off_at_the_width_of_a_phone(pictures):
    for picture in pictures:
        root = ElementTree.fromstring(picture["svg"])
        wide = float(root.get("viewBox").split()[2])
        assert [text for left, right, _, text in texts(picture) if left < -1 or right > wide + 4] == []


def test_no_label_of_a_line_lies_over_another():
    for system in plant.systems() + [random_system(seed, 20) for seed in range(12)]:
        worked = ask({"do": "work", "document": system, "simulate": False})
        picture = ask({"do": "diagram", "document": system, "worked": worked, "width": WIDTH})
        over = [(one[3], other[3]) for one, other in itertools.combinations(texts(picture), 2)
                if abs(one[2] - other[2]) < TEXT_HEIGHT and one[0] < other[1] - 2 and other[0] < one[1] - 2]
        assert over == []


def test_points_devices_and_switches_are_drawn():
    system = plant.sorter_chain()
    line, _ = drawn(system)
    classes = re.findall('class="([a-z -]+)"', line["svg"])
    assert classes.count("device") == len(system["devices"]) and classes.count("switch") == len(system["switches"])
    for point in system["points"]:
        assert point["name"].split(",")[0][:8] in line["svg"]


def test_the_line_is_to_scale_along_its_length():
    system = plant.head_rig()
    drawn_pipes = [re.findall("[ML][0-9.]+ ([0-9.]+)", way) for way in re.findall('class="pipe" d="([^"]+)"', drawn(system)[0]["svg"])]
    a_metre = [(float(way[-1]) - float(way[0])) / section["length_m"] for way, section in zip(drawn_pipes, system["sections"])]
    assert len(a_metre) == len(system["sections"]) and a_metre == pytest.approx([a_metre[0]] * len(a_metre), rel=0.02)


def test_a_pipe_with_temperatures_of_its_own_is_dashed_and_named_where_they_begin():
    system = plant.head_rig()
    outdoors = {"coldest_c": -30, "usual_c": -5, "hottest_c": 38}
    for section in system["sections"][2:4]:
        section["ambient"] = dict(outdoors)
    system["sections"][4]["ambient"] = dict(system["ambient"])
    line, _ = drawn(system, "us")
    assert len(re.findall('class="pipe"[^>]*stroke-dasharray', line["svg"])) == 2
    assert line["svg"].count("−22 °F to 100 °F") == 1 and line["svg"].count("as the system again") == 1
    assert line["says"].endswith("Dashed: pipes with temperatures of their own, %s, %s." % tuple(
        section["id"] for section in system["sections"][2:4]))
    assert "dasharray" not in drawn(plant.head_rig())[0]["svg"]
