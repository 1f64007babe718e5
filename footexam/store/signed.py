"""The document that was signed last, as long as nothing was entered behind the signature."""

from typing import TYPE_CHECKING, NamedTuple

from footexam.record.signing import changes_since, signatures

if TYPE_CHECKING:
    from footexam.store.store import Store


class SignedDocument(NamedTuple):
    """What a signature keeps, to the byte, and where the record stood.

    `head` and `version` are the last hash and the number of entries, `catalogue` the hash of the
    forms that judged.
    """

    document: bytes
    assessment: bytes
    head: str
    version: int
    catalogue: str


def as_signed(store: "Store", subject: str) -> SignedDocument | None:
    """What was signed last; None without a sound signature or with changes behind it.

    Raises KnownError where the store no longer holds it.
    """
    journal = store.journal(subject)
    last = next(reversed(signatures(journal)), None)
    if last is None or not last.sound or changes_since(journal, last):
        return None
    document, assessment = store.attachment(last.document), store.attachment(last.assessment)
    return SignedDocument(
        document.data, assessment.data, journal.head, len(journal), last.catalogue
    )
