"""`calculate` and `simulate`: a document in, the worked document or the trace out, on this machine or the phone's interpreter."""
import json
import sys

import click

from ..documents import NoDocument, read_document
from ..engine import bridge
from ..engine.events.faults import FORMS
from ..engine.words.sentences import LANGUAGES
from ..engine.basics.text import READERS
from ..phone_engine import NoInterpreter, PhoneEngine

CANNOT_BE_WORKED = 2
_PICTURE_WIDTH = 720

units_option = click.option("--units", type=click.Choice(READERS), default=READERS[0], show_default=True,
                      help="Units of the texts; values keep the units that docs/formats.md names.")


def document_in(name, kind="system"):
    try:
        return read_document(name, kind)
    except NoDocument as error:
        raise click.ClickException(str(error)) from error


def ask(request):
    return json.loads(bridge.answer(json.dumps(request)))


def _ask_phone(request):
    try:
        text = json.dumps(request, allow_nan=False)
    except ValueError:
        return ask(request)  # numbers that are none cannot travel as JSON; the check refuses them
    try:
        with PhoneEngine() as phone:
            return json.loads(phone.ask(text))
    except NoInterpreter as error:
        raise click.ClickException(str(error)) from error


def print_json(document):
    click.echo(json.dumps(document, ensure_ascii=False, indent=1, sort_keys=True))


@click.command()
@click.argument("file")
@units_option
@click.option("--language", type=click.Choice(sorted(LANGUAGES)), default="en", show_default=True)
@click.option("--on", "machine", type=click.Choice(["server", "phone"]), default="server", show_default=True,
              help="phone: under the phone's interpreter, in Node.")
def calculate(file, units, language, machine):
    """Work a system: its settings, figures and findings.

    FILE is the system's document (JSON or YAML; - for standard input). The worked document is printed as JSON.

    Exit code 2: the document cannot be worked; its findings are printed. Exit code 1: the file cannot be read.
    """
    answer = _ask_phone if machine == "phone" else ask
    worked = answer({"do": "work", "document": document_in(file), "units": units, "language": language})
    print_json(worked)
    if "settings" not in worked:
        sys.exit(CANNOT_BE_WORKED)


@click.command()
@click.argument("file")
@click.option("--at", "at_c", type=click.FloatRange(-70, 250), metavar="C",
              help="Temperature in °C; the system's usual one where it is left out.")
@click.option("--cycles", type=click.IntRange(1, 100), default=1, show_default=True, help="Cycles of one event.")
@click.option("--limit", "limit_s", type=click.FloatRange(0.1, 1e7), metavar="S", help="End a build-up after S seconds.")
@click.option("--fault", "faults", multiple=True, metavar="NAME=VALUE",
              help="A fault to try, more than once for several: %s." % "; ".join("%s=%s" % form for form in FORMS))
@click.option("--svg", is_flag=True, help="Print the picture instead of the trace.")
@units_option
def simulate(file, at_c, cycles, limit_s, faults, svg, units):
    """Simulate one event of a system, healthy or with faults.

    FILE is the system's document (JSON or YAML; - for standard input). The trace is printed as JSON.

    Exit code 2: the document cannot be worked, its findings are printed; or a fault cannot be tried, which one sentence says.
    Exit code 1: the file cannot be read.
    """
    document = document_in(file)
    trace = ask({"do": "simulate", "document": document, "at_c": at_c, "cycles": cycles, "limit_s": limit_s,
                  "faults": faults, "units": units})
    if "time_s" not in trace and trace["findings"][0]["where"] == "faults":
        click.echo("Error: %(says)s %(do)s" % trace["findings"][0], err=True)
        sys.exit(CANNOT_BE_WORKED)
    if "time_s" not in trace:
        print_json(trace)
        sys.exit(CANNOT_BE_WORKED)
    if svg:
        click.echo(ask({"do": "trace_picture", "document": document, "traces": [trace], "width": _PICTURE_WIDTH,
                         "units": units})["svg"])
    else:
        print_json(trace)
