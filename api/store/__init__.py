"""Kept designs: every revision of every one, in one SQLite file or in PostgreSQL.

Knows building files as JSON text only; what they say is nothing to it. SQLAlchemy is imported when a store
is opened, and by the modules `dialects`, `schema`, `designs` and `importing` alone.
"""
