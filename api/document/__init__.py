"""Document: what the API and the hooks are told as, all of it written from the code.

In: the table of operations, the models of the installed rules. Out: OpenAPI 3.1, its page, the references.
"""

from __future__ import annotations

from soleplate.api.document.author_reference import first_sentence, plain
from soleplate.api.document.hook_reference import hooks_text
from soleplate.api.document.schema_words import members
from soleplate.api.document.self_description import with_own_description
