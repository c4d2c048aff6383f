"""The predicted cycle moment by moment, without the server: hair line, pressure along the line, words; nothing is asked at a move."""
import pytest

from .bench import HEAD_RIG, RESAW, STACKER, TRIM_SAW

COUNT = """() => {
    window.asked = 0;
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (...message) { window.asked += 1; return post.apply(this, message); };
}"""


def state(phone):
    """(hair line, curve along the line, words, what a screen reader says)."""
    return phone.page.evaluate("""() => [document.querySelector('.hair').getAttribute('d'),
        document.querySelectorAll('.scrub svg')[1].querySelector('.trace-a').getAttribute('d'),
        document.querySelector('.moment p').textContent, document.querySelector('input[type=range]').getAttribute('aria-valuetext')]""")


@pytest.mark.parametrize("system", [HEAD_RIG, TRIM_SAW, STACKER, RESAW])
def test_every_kind_is_scrubbed_by_key_and_thumb_without_asking_the_engine(server, phone, system):
    server.stop()
    phone.open("/app/systems/%s/figures" % system)
    slider = phone.page.get_by_role("slider", name="Moment of the cycle")
    slider.wait_for()
    phone.page.get_by_text("how sure the predictions are").wait_for(state="detached")
    phone.page.evaluate(COUNT)
    first = state(phone)
    slider.press("Home")
    begin = state(phone)
    assert begin[2].startswith("0 s: ") and begin[2] == begin[3] and begin[:2] != first[:2]
    assert phone.page.locator(".scrub svg .moved").count() == 0
    slider.press("End")
    end = state(phone)
    assert end[0] != begin[0] and end[2] == end[3] != begin[2]
    assert slider.bounding_box()["height"] >= 56
    slider.click()
    assert state(phone)[0] not in (begin[0], end[0])
    phone.page.get_by_role("group", name="Which trace").get_by_role("button").nth(1).click()
    assert state(phone)[2] == state(phone)[3]
    assert phone.page.evaluate("() => window.asked") == 0


def test_devices_are_marked_when_they_have_moved(server, phone):
    server.stop()
    phone.open("/app/systems/%s/figures" % HEAD_RIG)
    slider = phone.page.get_by_role("slider", name="Moment of the cycle")
    slider.press("End")
    devices = phone.page.locator(".scrub svg .device").count()
    assert devices == 6 and phone.page.locator(".scrub svg .device.moved").count() == devices
    assert "6 of 6 devices have moved" in phone.page.inner_text(".moment p")
