"""All kinds of documents. The phone loads this with the first record, not with the first figure."""
from collections import OrderedDict

from .catalogue import SYSTEM
from .record_fields import RECORDS

# kind of document -> (its name, its catalogue)
KINDS = OrderedDict([("system", ("System", SYSTEM))] + list(RECORDS.items()))
CATALOGUES = OrderedDict([(kind + "/1", fields) for kind, (_, fields) in KINDS.items()])
