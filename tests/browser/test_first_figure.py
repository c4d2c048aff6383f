"""The form's first figure stands there before the engine runs, where this phone has worked the same system once."""
from .bench import HEAD_RIG, eventually

# once when the form opens and once when the engine has worked it, or that alone
SHOWN = """() => {
    const at = performance.getEntriesByName('figures worked')[0].startTime;
    return performance.getEntriesByName('figures shown').filter((one) => one.startTime <= at).length;
}"""


def opened(phone):
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.page.wait_for_function("() => performance.getEntriesByName('figures worked').length > 0")
    return phone.page.evaluate(SHOWN), phone.page.inner_text(".answer .value")


def test_after_today_has_worked_a_system_its_form_opens_with_the_figure(server, new_phone):
    phone = new_phone()
    phone.sign_in()
    phone.open("/app/")
    eventually(lambda: phone.kept("worked", "outline:" + HEAD_RIG), 60)
    server.stop()
    phone.restart()
    shown, figure = opened(phone)
    kept = phone.kept("worked", "outline:" + HEAD_RIG)["outline"]
    assert shown == 2 and figure == "%s, %s" % (kept["build"]["time_frictionless"]["shown"], kept["interval"]["pause"]["shown"])
    phone.open("/app/this-phone")
    phone.page.get_by_label("US: psi, in³, in, °F").check()
    eventually(lambda: phone.page.get_by_label("US: psi, in³, in, °F").is_checked())
    assert opened(phone)[0] == 1  # what was kept for other units is not shown
