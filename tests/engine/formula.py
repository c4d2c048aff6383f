"""Reads and works the printed formula of a figure with numpy, without the engine: only what a reader sees goes in."""
import ast
import operator

import numpy as np


def up_to_step(value, step, least):
    """The first of least, least + step, least + 2 step, ... that is not below the value (a hair of 1e-9 of a step aside)."""
    return least + step * max(0.0, np.ceil((value - least) / step - 1e-9))


def next_size(value, sizes):
    """The smallest of the sizes that is not below the value; the largest where all are."""
    return min([size for size in sizes if size >= value], default=max(sizes))


def first_within(sizes, drops, limit):
    """The first of the sizes whose drop is not above the limit; drops fall along the sizes."""
    return [size for size, drop in zip(sizes, drops, strict=True) if drop <= limit][0]


def _pick(every, two):
    return lambda *values: every(values[0]) if len(values) == 1 else two(*values)


FUNCTIONS = {"sum": np.sum, "min": _pick(np.min, min), "max": _pick(np.max, max), "ceil": np.ceil, "floor": np.floor,
             "sqrt": np.sqrt, "median": np.median, "exp": np.exp, "log": np.log, "log10": np.log10,
             "up_to_step": up_to_step, "next_size": next_size, "first_within": first_within}
_TWO = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv, ast.Pow: operator.pow}
_COMPARE = {ast.Lt: operator.lt, ast.LtE: operator.le, ast.Gt: operator.gt, ast.GtE: operator.ge}


def evaluate(formula, inputs):
    """Value of a formula over {name: number or list}; anything but arithmetic raises ValueError."""
    return _value(ast.parse(formula, mode="eval").body, inputs)


def _value(node, inputs):
    if isinstance(node, ast.Constant):
        return float(node.value)
    if isinstance(node, ast.Name):
        value = np.pi if node.id == "pi" else inputs[node.id]
        return np.asarray(value, float) if isinstance(value, list) else float(value)
    if isinstance(node, ast.BinOp):
        return _TWO[type(node.op)](_value(node.left, inputs), _value(node.right, inputs))
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -_value(node.operand, inputs)
    if isinstance(node, ast.Compare) and len(node.ops) == 1:
        return _COMPARE[type(node.ops[0])](_value(node.left, inputs), _value(node.comparators[0], inputs))
    if isinstance(node, ast.Call) and node.func.id in FUNCTIONS:
        return FUNCTIONS[node.func.id](*[_value(part, inputs) for part in node.args])
    raise ValueError("not arithmetic: " + ast.dump(node))
