"""The lubricant against the ambient, its code, its penetration and what was in the line before; the rules that fed the points."""
from .bearing import running_c
from ..basics.figure import given
from ..basics.findings import finding
from ..line.flow import LAMINAR_TO
from ..lubricants.generic_greases import generic
from ..lubricants.grease_code import DIN_51502, NLGI_PENETRATION, decode, din_code, iso_code, nlgi_of_penetration
from ..lubricants.lubricant import OIL, lubricant_at
from ..lubricants.mixing import mixing
from .needs import SETS, factor_set

# from a trade article: above this n·dm even small errors of the fill matter
FAST = 150000
THIN = 1


def lubricant_findings(document, worked, oil):
    """All findings of this room; `oil` as for bearing.viscosity_ratio, `worked` with the figures of lubricant and points."""
    lubricant = document["lubricant"]
    decoded = decode(lubricant.get("code"))
    limits = {field: _limit(lubricant, decoded, field) for field in ("coldest_c", "hottest_c")}
    return (_temperatures(document, limits) + _grade(lubricant, decoded) + _code(lubricant, decoded) + _viscosity(lubricant, oil)
            + _flow(document, worked) + _mixing(lubricant) + _bearings(document, worked, limits["hottest_c"])
            + _chains(document, worked))


def _limit(lubricant, decoded, field):
    """(limit [°C], where it comes from) of the lubricant: entered, by its code, of a generic grease; (None, None) if unknown."""
    like = None if lubricant["nlgi"] == OIL else generic(lubricant)
    for source, means in ((lubricant, "entered"), (decoded, "code"), (like, "generic")):
        if source and source.get(field) is not None:
            return source[field], means
    return None, None


def _temperatures(document, limits):
    """Against the coldest and the hottest that any part of the line gets: a pipe may have temperatures of its own."""
    findings, ambients = [], [document["ambient"]] + [section["ambient"] for section in document["sections"] if section.get("ambient")]
    for field, sign in (("coldest_c", 1), ("hottest_c", -1)):
        limit, means = limits[field]
        t = sign * min([sign * ambient[field] for ambient in ambients])
        if limit is not None and sign * t < sign * limit:
            identifier = "lubricant." + field + ("_generic" if means == "generic" else "")
            findings.append(finding("warn", "lubricant." + field, identifier, [
                ("limit", given(limit, "°C", "limit", means == "generic")), ("t", given(t, "°C", "ambient"))]))
    return findings


def _grade(lubricant, decoded):
    findings, entered, penetration = [], lubricant["nlgi"], lubricant.get("penetration")
    if decoded and decoded["nlgi"] != entered:
        findings.append(finding("warn", "lubricant.nlgi", "lubricant.code", [
            ("code", lubricant["code"]), ("says", decoded["nlgi"]), ("entered", entered)]))
    if penetration is None or entered == OIL:
        return findings
    grade, values = nlgi_of_penetration(penetration), [("penetration", given(penetration, "count", "worked penetration"))]
    if grade is None:
        softer = [name for name, least, _ in NLGI_PENETRATION if penetration < least]
        firmer = [name for name, _, most in NLGI_PENETRATION if penetration > most]
        return findings + [finding("note", "lubricant.penetration", "lubricant.between_grades", values + [
            ("softer", softer[-1] if softer else "000"), ("firmer", firmer[0] if firmer else "6")])]
    same = grade == entered
    return findings + [finding("note" if same else "warn", "lubricant.penetration",
                               "lubricant.penetration" if same else "lubricant.penetration_differs",
                               values + [("grade", grade), ("entered", entered)])]


def _words(grease):
    """Ids of the words for what a code says, in order."""
    words = ["word.duty." + grease["duty"], "word.pressure.%s" % ("yes" if grease["extreme_pressure"] else "no")]
    if grease["solid"]:
        words.append("word.solid")
    if grease["base_oil"]:
        words.append("word.oil." + grease["base_oil"])
    if grease["water"]:
        words.append("word.water." + (grease["water"] if grease["source"] != DIN_51502 else "din_" + grease["water"]))
    if grease["rust"]:
        words.append("word.rust." + grease["rust"])
    return words


def _code(lubricant, decoded):
    """What the code says; without one, the codes of what is entered."""
    if decoded:
        return [finding("note", "lubricant.code", "lubricant.code_says", [
            ("code", lubricant["code"]), ("words", {"words": _words(decoded)}), ("nlgi", decoded["nlgi"]),
            ("coldest", given(decoded["coldest_c"], "°C", "coldest")),
            ("hottest", given(decoded["hottest_c"], "°C", "hottest"))])]
    if lubricant.get("code") and lubricant["nlgi"] != OIL:
        return [finding("note", "lubricant.code", "lubricant.code_unread", [("code", lubricant["code"][:40])])]
    if lubricant["nlgi"] == OIL or lubricant.get("coldest_c") is None or lubricant.get("hottest_c") is None:
        return []
    din, iso = din_code(lubricant), iso_code(lubricant)
    return [finding("note", "lubricant.code", "lubricant.code_for", [("din", din), ("iso", iso)])] if din and iso else []


def _viscosity(lubricant, oil):
    findings = []
    stated = [lubricant.get(field) for field in ("v40_mm2_s", "v100_mm2_s")]
    if stated != [None, None] and oil is None:
        findings.append(finding("warn", "lubricant.v40_mm2_s", "lubricant.viscosities"))
    elif oil and oil[2] and oil[3] == "":
        findings.append(finding("note", "lubricant.viscosity_index", "lubricant.index_taken"))
    elif oil and oil[3]:
        findings.append(finding("note", "lubricant.thickener", "lubricant.generic", [
            ("thickener", lubricant["thickener"]), ("oil", lubricant["base_oil"]),
            ("v40", given(oil[0], "mm²/s", "at 40 °C", True))]))
    return findings


def _flow(document, worked):
    reynolds = worked["lubricant"].get("reynolds_hottest")
    if reynolds and reynolds["value"] > LAMINAR_TO:
        bore = reynolds["inputs"]["bore"]["value"]
        return [finding("warn", "pump.delivery_cm3_min", "line.turbulent", [
            ("reynolds", given(reynolds["value"], "count", "Reynolds number")),
            ("limit", given(LAMINAR_TO, "count", "laminar to")),
            ("t", given(reynolds["inputs"]["t"]["value"], "°C", "hottest")), ("bore", given(bore, "mm", "bore")),
            ("wider", given(bore * reynolds["value"] / LAMINAR_TO, "mm", "bore that keeps it laminar"))])]
    estimates = lubricant_at(document["lubricant"], document["ambient"]["usual_c"])["estimates"]
    taken = [field for field in ("yield_pa", "consistency_pa_sn", "flow_index") if field in estimates]
    if taken and document["lubricant"]["nlgi"] != OIL:
        return [finding("note", "lubricant", "lubricant.estimated", [("grade", document["lubricant"]["nlgi"])])]
    return []


def _mixing(lubricant):
    now, before = lubricant.get("thickener"), lubricant.get("previous_thickener")
    found = mixing(now, before)
    if found is None or lubricant["nlgi"] == OIL:
        return []
    return [finding("note" if found == "mixing.same" else "warn", "lubricant.previous_thickener", found,
                    [("now", now), ("before", before)])]


def _worst(document, worked, name, beyond, lowest=False):
    """(count, name of the worst point, its value) of the points whose figure `name` lies beyond; (0, "", 0) if none does."""
    sign = -1 if lowest else 1
    found = [(sign * figures[name]["value"], -number) for number, figures in enumerate(worked["points"])
             if name in figures and sign * figures[name]["value"] > sign * beyond]
    if not found:
        return 0, "", 0
    value, number = max(found)
    return len(found), document["points"][-number]["name"], sign * value


def _bearings(document, worked, limit):
    findings, rolling = [], [point for point in document["points"] if point["need"]["method"] == "rolling"]
    sets = [factor_set(point["need"]) for point in rolling]
    for name in sorted(SETS):
        if name in sets:
            findings.append(finding("note", "points", "bearing.set_%s" % name.lower(), [
                ("count", given(sets.count(name), "count", "bearings"))]))
    if len(findings) == 2:
        findings.append(finding("warn", "points", "bearing.two_sets"))
    for point in rolling:
        t, unknown = running_c(point["need"])
        if not unknown and limit[0] is not None and t > limit[0]:
            findings.append(finding("warn", "points.%s" % point["id"], "bearing.hot", [
                ("point", point["name"]), ("t", given(t, "°C", "runs at")),
                ("limit", given(limit[0], "°C", "limit", limit[1] == "generic"))]))
    for name, beyond, unit, identifier in (("speed_factor", FAST, "mm/min", "bearing.fast"),
                                           ("kappa", THIN, "ratio", "bearing.thin_oil")):
        count, worst, value = _worst(document, worked, name, beyond, name == "kappa")
        if count:
            findings.append(finding("note", "points", identifier, [
                ("count", given(count, "count", "bearings")), ("worst", worst), ("value", given(value, unit, "worst")),
                ("limit", given(beyond, unit, "limit"))]))
    return findings


def _chains(document, worked):
    for point, figures in zip(document["points"], worked["points"]):
        need = point["need"]
        if need["method"] == "film" and "pin" in figures["need"]["inputs"]:
            return [finding("note", "points.%s" % point["id"], "chain.drip", [("point", point["name"]), ("need", given(
                figures["need"]["value"], "cm³/h", "by film"))])]
    return []
