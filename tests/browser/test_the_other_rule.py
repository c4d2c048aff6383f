"""A bearing entered on the phone: the other published rule one tap away, the factor sets apart, and the same again on the result."""
from .bench import HEAD_RIG

POINT = "points[0].need"


def test_a_bearing_shows_the_other_rule_and_one_factor_set_at_a_time(phone):
    phone.open("/app/systems/%s/edit/machine" % HEAD_RIG)
    phone.page.locator("summary", has_text="Head rig, left guide").click()
    phone.choose(POINT + ".method", "rolling")
    for name, text in (("bore_mm", "50"), ("outer_mm", "110"), ("width_mm", "27"), ("speed_rpm", "300"), ("factors.design", "1"),
                       ("factors.contamination", "0.4")):
        phone.enter(POINT + "." + name, text)
    phone.page.locator("summary", has_text="What the other rule says").click()
    phone.page.get_by_text("By the other rule: 0.0159 cm³/h (ratio").wait_for()
    assert phone.page.get_by_label("Contamination").count() == 1 and phone.page.get_by_label("Judged factor").count() == 0
    phone.choose(POINT + ".variant", "B")
    phone.page.get_by_label("Judged factor").wait_for()
    assert phone.page.get_by_label("Contamination").count() == 0
    phone.tap("Save", exact=False)
    phone.wait_title("Head rig and edger")
    phone.open("/app/systems/%s/figures" % HEAD_RIG)
    shown = phone.button("By the other rule 0.0159 cm³/h")
    shown.click()
    assert "d ^ 2 / 100 × rows × film / 10 / every" in phone.page.inner_text(".working .formula")
    assert phone.page.get_by_role("button", name="Factors, set B").count() == 1
    assert phone.page.get_by_role("button", name="Factors, set A").count() == 0
