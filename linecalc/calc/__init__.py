"""Kernels: the arithmetic of the trade, one module a subject.

Every kernel is plain arithmetic on floats or Terms and decides nothing that a
table or an edition decides: table values are arguments. What it returns is
named, so formula, substitution, value and citation come from one expression.
"""
