"""`diagnose`: a system's document and readings of it in; the causes in the order in which to check them out."""
import sys

import click

from .calculate import CANNOT_BE_WORKED, ask, document_in, print_json, units_option

_FINISHED = ("format", "system", "at_c", "causes")


@click.command()
@click.argument("file")
@click.argument("readings")
@units_option
def diagnose(file, readings, units):
    """Find what may be wrong with a system by readings of it.

    FILE is the system's document, READINGS one of the format readings/1 (JSON or YAML; - for standard input). The causes are printed as
    JSON, in the order in which to check them.

    Exit code 2: the document or the readings cannot be used; the findings are printed. Exit code 1: a file cannot be read.
    """
    document, read = document_in(file), document_in(readings, "readings")
    tried = read.get("tried") if isinstance(read, dict) else None
    answer = ask({"do": "diagnose", "document": document, "readings": read, "tried": tried, "units": units})
    if "causes" not in answer:
        print_json(answer)
        sys.exit(CANNOT_BE_WORKED)
    print_json({name: answer[name] for name in _FINISHED})
