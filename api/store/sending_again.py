"""The same design sent again: by the key of the first call, which is kept for a day, it is added once."""

from __future__ import annotations

import hashlib
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy import Connection, delete, select, text

from soleplate.api.store.errors import KeyReusedError
from soleplate.api.store.kept import Design, time_text
from soleplate.api.store.schema import FIRST_SENT, REVISIONS

KEPT: Final = timedelta(days=1)

# Waits for another call with the same key to end; SQLite and PostgreSQL both say it so.
_CLAIM: Final = text(
    "INSERT INTO first_sent (key, digest, design, made) VALUES (:key, :digest, :design, :made)"
    " ON CONFLICT (key) DO NOTHING"
)


def added_before(connection: Connection, key: str, body: str, design: Design, now: datetime) -> Design | None:
    """The design that the first call with this key added, as it was then; None if this is the first.

    The key is then kept with `design`, which is to be added in the same transaction.

    Raises:
        KeyReusedError: the first call sent another body.
    """
    connection.execute(delete(FIRST_SENT).where(FIRST_SENT.c.made < time_text(now - KEPT)))
    digest = hashlib.sha256(body.encode()).hexdigest()
    mine = {"key": key, "digest": digest, "design": design.id, "made": design.created}
    if connection.execute(_CLAIM, mine).rowcount == 1:
        return None
    first = connection.execute(select(FIRST_SENT).where(FIRST_SENT.c.key == key)).one()
    if first.digest != digest:
        raise KeyReusedError(
            "this Idempotency-Key came with another body before; accepted is a new key for each design"
        )
    added = connection.execute(
        select(REVISIONS.c.name, REVISIONS.c.made).where(
            REVISIONS.c.design == first.design, REVISIONS.c.number == 1
        )
    ).one()
    return Design(first.design, added.name, 1, added.made, added.made, None)
