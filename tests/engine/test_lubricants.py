"""What the engine says of the lubricant: figures of its oil, and findings of temperatures, codes, flow and mixing."""
import pytest

from webapp.engine.bridge import ask
from webapp.engine.lubricants.generic_greases import GREASES
from webapp.engine.lubricants.grease_code import decode, din_code, iso_code
from webapp.engine.lubricants.lubricant import GRADE_DEFAULTS
from webapp.engine.lubricants.mixing import TABLE, mixing

from .systems import plain_system

GREASE = {"nlgi": "2", "yield_pa": 140, "consistency_pa_sn": 20, "flow_index": 0.5}
OIL = {"nlgi": "oil", "v40_mm2_s": 46, "v100_mm2_s": 6.8}


def worked(lubricant, **changes):
    return ask({"do": "work", "document": plain_system(lubricant=lubricant, **changes), "simulate": False})


def found(lubricant, identifier, **changes):
    """The findings of this id."""
    return [entry for entry in worked(lubricant, **changes)["findings"] if entry["id"] == identifier]


def without(thing, *fields):
    return {name: value for name, value in thing.items() if name not in fields}


# ---- oil

def test_an_oil_has_viscosities_index_and_grade_and_flows_in_layers():
    figures = worked(OIL)["lubricant"]
    assert figures["grade"]["value"] == 46 and figures["viscosity_index"]["shown"] == "102"
    assert figures["viscosity_coldest"]["value"] > figures["viscosity_usual"]["value"] > figures["viscosity_hottest"]["value"]
    assert figures["reynolds_hottest"]["value"] < 10 and found(OIL, "line.turbulent") == []
    assert not any(entry["estimate"] for entry in figures.values())


def test_a_turbulent_flow_is_warned_of_and_the_bore_that_is_named_keeps_it_laminar():
    document = plain_system(lubricant=OIL)
    document["pump"]["delivery_cm3_min"] = 60000
    entry, = [one for one in ask({"do": "work", "document": document, "simulate": False})["findings"] if one["id"] == "line.turbulent"]
    assert (entry["severity"], entry["with"]["limit"]["value"]) == ("warn", 2040) and "Reynolds number" in entry["says"]
    document["sections"][0]["bore_mm"] = entry["with"]["wider"]["value"] * 1.001
    again = ask({"do": "work", "document": document, "simulate": False})
    assert [one for one in again["findings"] if one["id"] == "line.turbulent"] == []
    assert again["lubricant"]["reynolds_hottest"]["value"] == pytest.approx(2040, rel=0.002)


@pytest.mark.parametrize("missing", ["v40_mm2_s", "v100_mm2_s"])
def test_one_viscosity_and_the_index_do_as_well_as_two(missing):
    index = worked(OIL)["lubricant"]["viscosity_index"]["value"]
    one = worked(dict(without(OIL, missing), viscosity_index=index))
    assert one["lubricant"]["second_viscosity"]["value"] == pytest.approx(OIL[missing], rel=1e-6)
    assert one["line"]["drop_coldest"]["value"] == pytest.approx(worked(OIL)["line"]["drop_coldest"]["value"], rel=1e-5)
    assert not one["line"]["drop_coldest"]["estimate"]


@pytest.mark.parametrize("missing", ["v40_mm2_s", "v100_mm2_s"])
def test_one_viscosity_alone_makes_estimates_and_says_so(missing):
    oil = without(OIL, missing)
    figures = worked(oil)
    assert figures["lubricant"]["viscosity_coldest"]["estimate"] and figures["line"]["drop_coldest"]["estimate"]
    assert figures["lubricant"]["viscosity_index"]["value"] == pytest.approx(95, abs=0.2)
    assert found(oil, "lubricant.index_taken")[0]["severity"] == "note"


@pytest.mark.parametrize("oil", [{"nlgi": "oil"}, {"nlgi": "oil", "v40_mm2_s": 5}, {"nlgi": "oil", "v100_mm2_s": 1.5},
                                 {"nlgi": "oil", "v40_mm2_s": 10, "v100_mm2_s": 10}])
def test_an_oil_that_cannot_be_known_is_stopped(oil):
    assert [(entry["severity"], entry["id"]) for entry in worked(oil)["findings"]] == [("stop", "check.oil_viscosity")]


def test_an_oil_between_two_grades_and_a_thin_one_show_no_grade_and_no_index():
    assert "grade" not in worked(dict(OIL, v40_mm2_s=55))["lubricant"]
    assert "viscosity_index" not in worked(dict(OIL, v100_mm2_s=1.9))["lubricant"]


# ---- base oil of a grease

def test_a_grease_has_figures_of_its_base_oil_only_where_something_says_what_it_is():
    assert worked(GREASE)["lubricant"] == {}
    assert "reynolds_hottest" not in worked(dict(GREASE, v40_mm2_s=150, v100_mm2_s=14))["lubricant"]
    assert found(dict(GREASE, v40_mm2_s=10, v100_mm2_s=14), "lubricant.viscosities")[0]["severity"] == "warn"


def test_thickener_and_base_oil_stand_in_as_estimates():
    grease = dict(GREASE, thickener="lithium", base_oil="mineral")
    assert all(entry["estimate"] for entry in worked(grease)["lubricant"].values())
    assert found(grease, "lubricant.generic")[0]["severity"] == "note"
    assert found(dict(grease, v40_mm2_s=100, v100_mm2_s=11), "lubricant.generic") == []
    assert worked(dict(grease, base_oil="silicone"))["lubricant"] == {}


@pytest.mark.parametrize("thickener, oil, grades, v40, v100, coldest, hottest", GREASES)
def test_a_generic_grease_is_one_that_could_be(thickener, oil, grades, v40, v100, coldest, hottest):
    assert v100 < v40 and coldest < 0 < hottest and set(grades) <= set(GRADE_DEFAULTS)
    index = worked(dict(GREASE, nlgi=grades[-1], thickener=thickener, base_oil=oil))["lubricant"]["viscosity_index"]["value"]
    assert 80 < index < 105 if oil == "mineral" else 130 < index < 170


# ---- temperatures

def test_the_code_s_temperatures_count_where_none_are_entered():
    cold = {"coldest_c": -40, "usual_c": 20, "hottest_c": 130}
    grease = dict(GREASE, code="KP2K-30")
    assert found(grease, "lubricant.coldest_c", ambient=cold)[0]["with"]["limit"]["value"] == -30
    assert found(grease, "lubricant.hottest_c", ambient=cold)[0]["severity"] == "warn"
    assert found(dict(grease, coldest_c=-50, hottest_c=150), "lubricant.coldest_c", ambient=cold) == []


def test_a_generic_grease_s_temperatures_are_said_to_be_estimates():
    grease = dict(GREASE, thickener="calcium", base_oil="mineral")
    entry, = found(grease, "lubricant.hottest_c_generic", ambient={"coldest_c": 0, "usual_c": 20, "hottest_c": 70})
    assert entry["severity"] == "warn" and "about 60 °C" in entry["says"]


# ---- codes and penetration

def test_a_code_is_said_in_words():
    entry, = found(dict(GREASE, code="kphc 2 N-40"), "lubricant.code_says")
    assert entry["says"] == ("kphc 2 N-40 says: for rolling and plain bearings and sliding faces, additives against wear under high "
                             "pressure, synthetic hydrocarbon oil; NLGI 2; −40 °C to 140 °C.")
    assert "protects against rust from fresh water" in found(dict(GREASE, code="ISO-L-XBCEA 2"), "lubricant.code_says")[0]["says"]


def test_a_code_that_is_none_is_said_for_a_grease_and_passed_over_for_an_oil():
    assert len(found(dict(GREASE, code="the green drum"), "lubricant.code_unread")) == 1
    assert found(dict(OIL, code="CLP 46"), "lubricant.code_unread") == []


@pytest.mark.parametrize("code", ["KPL2K-30", "K2", "KP9K-30", "KP2Z-30", "KP2K30", "L-XZCEA 2", "L-XBZEA 2", "L-XBCZA 2", "L-XBCEC 2", "", None, 5])
def test_what_only_looks_like_a_code_is_none(code):
    assert decode(code) is None


def test_without_a_code_what_is_entered_makes_one():
    grease = dict(GREASE, coldest_c=-33, hottest_c=145, extreme_pressure=True, base_oil="ester", water="washed", rust="fresh water")
    assert found(grease, "lubricant.code_for")[0]["with"] == {"din": "KPE2N-30", "iso": "ISO-L-XCDHB 2"}
    assert found(dict(grease, code="KP2K-30"), "lubricant.code_for") == []


def test_a_code_that_is_written_is_read_back_and_claims_no_more_than_was_known():
    for coldest in range(-70, 1, 7):
        for hottest in range(60, 260, 13):
            for more in ({}, {"extreme_pressure": True, "water": "humid", "base_oil": "polyglycol", "rust": "salt water"}):
                grease = dict(more, nlgi="1", coldest_c=coldest, hottest_c=hottest)
                for code in (din_code(grease), iso_code(grease)):
                    if code is not None:
                        read = decode(code)
                        assert read["coldest_c"] >= coldest and read["hottest_c"] <= hottest and read["nlgi"] == "1", code
                        assert read["extreme_pressure"] == ("water" in more), code


def test_temperatures_that_reach_no_class_make_no_code():
    grease = {"nlgi": "2", "coldest_c": -5, "hottest_c": 120}
    assert din_code(grease) is None and iso_code(grease) == "ISO-L-XACAA 2"
    assert din_code(dict(grease, coldest_c=-20, hottest_c=50)) is None and iso_code(dict(grease, hottest_c=50)) is None


def test_a_penetration_is_held_against_the_grade():
    assert found(dict(GREASE, penetration=280), "lubricant.penetration")[0]["severity"] == "note"
    assert found(dict(GREASE, penetration=330), "lubricant.penetration_differs")[0]["with"]["grade"] == "1"
    between = found(dict(GREASE, penetration=300), "lubricant.between_grades")[0]["with"]
    assert (between["softer"], between["firmer"]) == ("1", "2")


# ---- mixing

def test_no_pair_is_ever_approved():
    names = [name for name, _ in TABLE] + ["calcium sulfonate", "other"]
    for one in names:
        for other in names:
            entries = [entry for entry in worked(dict(GREASE, thickener=one, previous_thickener=other))["findings"]
                       if entry["id"] == mixing(one, other)]
            assert [entry["where"] for entry in entries] == ["lubricant.previous_thickener"], (one, other)
            assert entries[0]["severity"] == ("note" if one == other and one not in ("clay", "other") else "warn"), (one, other)
            assert "D6185" in entries[0]["do"], (one, other)


def test_the_table_is_the_same_from_both_sides():
    for row, (_, letters) in enumerate(TABLE):
        assert letters == "".join(other[row] for _, other in TABLE)


def test_nothing_is_said_where_one_thickener_is_unknown():
    assert mixing("lithium", None) is None and mixing(None, "lithium") is None
