"""Exports: the lists and the sheets as files, each module a plugin like anybody's.

In: a layout and options. Out: bytes. What makes them is imported when a file is asked for.
"""
