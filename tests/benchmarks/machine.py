"""The facts of the machine that the figures depend on."""
import os
import platform
from pathlib import Path


def machine():
    """One line: processor, cores, what else runs, Python."""
    models = [line.partition(":")[2].strip() for line in Path("/proc/cpuinfo").read_text().splitlines()
              if line.startswith("model name")]
    return "%s, %d cores, load %.1f at the start; Python %s" % (
        models[0] if models else platform.machine(), os.cpu_count(), os.getloadavg()[0], platform.python_version())
