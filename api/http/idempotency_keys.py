"""The header `Idempotency-Key` (IETF draft of that name): a text that a call and its repeat share."""

from __future__ import annotations

import re
from typing import Final

from starlette.datastructures import Headers

from soleplate.api.http.refusals import BadParameter

KEY_PATTERN: Final = r'^"[ !#-\[\]-~]{1,200}"$'

_KEY: Final = re.compile(KEY_PATTERN)


def idempotency_key(headers: Headers) -> str | None:
    """The key of a call; None where it has none.

    Raises:
        BadParameter: it is no structured text (RFC 8941), or is given twice.
    """
    given = headers.getlist("idempotency-key")
    if not given:
        return None
    if len(given) > 1 or not _KEY.fullmatch(given[0].strip()):
        raise BadParameter(
            "Idempotency-Key: accepted are 1 to 200 ASCII characters in double quotes, without quotes and"
            ' backslashes among them, such as "8e03978e-40d5-43dd-bc93-6894a57f9324"'
        )
    return given[0].strip()[1:-1]
