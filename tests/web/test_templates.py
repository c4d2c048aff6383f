"""Templates can be read: no line runs out of sight."""
from pathlib import Path

import webapp

FOLDER = Path(webapp.__file__).parent / "templates"


def test_no_line_of_a_template_is_longer_than_140_characters():
    templates = sorted(FOLDER.rglob("*.html"))
    assert len(templates) > 40
    assert ["%s, line %d" % (path.relative_to(FOLDER), number) for path in templates
            for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), 1) if len(line) > 140] == []
