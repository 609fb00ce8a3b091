"""Nookwright computes the whole job of fitting one-off built-in furniture into a crooked room."""

__version__ = "0.1.0"
