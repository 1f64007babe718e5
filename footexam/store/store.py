"""The store of a practice: patients, examinations and their journals, in one folder."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from uuid import uuid4

from sqlalchemy import Connection, Engine, literal_column, select

from footexam.record.entry import Draft, Entry
from footexam.record.examination import Examination, Patient, is_series
from footexam.record.fold import fold_examination, fold_patient
from footexam.record.journal import Journal
from footexam.store import backup, connect, journals, tables
from footexam.store.census import Census, check_file, take_census
from footexam.store.durable import make_private, make_private_folder
from footexam.store.engine import make_engine, reading, writing
from footexam.store.errors import KnownError, told
from footexam.store.header import known_version
from footexam.store.index import facts_of, follow, make_index
from footexam.store.journals import Attachment
from footexam.store.layout import BACKUPS, DATABASE, VERSION
from footexam.store.lock import Lock, acquire
from footexam.store.making import complete, make_database, missing
from footexam.store.messages import warning
from footexam.store.places import check_place
from footexam.store.upgrade import upgrade
from footexam.store.verify import Verification, verify
from footexam.terms import Purpose


@dataclass(frozen=True, slots=True)
class ExaminationRow:
    """An examination as the list of a patient shows it; what is not known is "".

    `examined_on` is YYYY-MM-DD; `in_error` marks one that is struck through.
    """

    subject: str
    patient: str
    examined_on: str
    examiner: str
    purpose: str
    signed: bool
    in_error: bool


class Store:
    """An open store. Used and closed in the thread that opened it (see `StoreWorker`).

    Every method raises KnownError for what can happen to a disk or a file, with a sentence for
    the person at the desk; nothing acknowledged before is then lost.
    """

    def __init__(
        self, folder: Path, engine: Engine, lock: Lock | None, warnings: tuple[str, ...]
    ) -> None:
        self.folder = folder
        self.warnings = warnings
        """What is not as it should be with this store, one sentence each; to be shown once."""
        self._path = folder / DATABASE
        self._engine = engine
        self._lock = lock

    @classmethod
    def create(cls, folder: Path) -> "Store":
        """Make a store in a folder that holds none, and open it."""
        warnings = check_place(folder)
        with told(folder):
            make_private_folder(folder)
        lock = acquire(folder)
        try:
            make_database(folder)
            return cls._open(folder, lock, warnings)
        except BaseException:
            lock.release()
            raise

    @classmethod
    def open(cls, folder: Path) -> "Store":
        """Open a store for reading and writing; an older one is upgraded behind a backup.

        Codes of KnownError that a caller may act on: `no-store` (make one), `held` (raise the
        other window, see `lock.holder`).
        """
        if not (folder / DATABASE).exists():
            raise missing(folder)
        warnings = check_place(folder)
        lock = acquire(folder)
        try:
            return cls._open(folder, lock, warnings)
        except BaseException:
            lock.release()
            raise

    @classmethod
    def read(cls, folder: Path) -> "Store":
        """Open a store for reading and for backups only, also beside a program that writes."""
        path = folder / DATABASE
        if not path.exists():
            raise missing(folder)
        if known_version(path) != VERSION:
            raise KnownError("older", path)
        return cls(folder, make_engine(path, connect.to_read), None, ())

    @classmethod
    def _open(cls, folder: Path, lock: Lock, warnings: tuple[str, ...]) -> "Store":
        path = folder / DATABASE
        form = known_version(path)
        engine = make_engine(path, connect.to_write)
        try:
            upgrade(engine, folder, form)
            with reading(engine, path) as connection:
                current = complete(connection, path)
            if not current:
                with writing(engine, path) as connection:
                    make_index(connection, path)
            return cls(folder, engine, lock, (*warnings, *_shortcomings(engine, path)))
        except BaseException:
            engine.dispose()
            raise

    def __enter__(self) -> "Store":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, bad: BaseException | None, at: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the store; what was acknowledged is on the disk already."""
        self._engine.dispose()
        if self._lock:
            self._lock.release()
            self._lock = None

    @staticmethod
    def new_subject(kind: str) -> str:
        """An id for a new patient or examination; `kind` is one of the two words."""
        return f"{kind}:{uuid4().hex}"

    def append(
        self,
        subject: str,
        expected_head: str,
        drafts: Sequence[Draft],
        attachments: Sequence[Attachment] = (),
    ) -> tuple[Entry, ...]:
        """Write drafts as the next entries of a subject; when this returns, they are durable.

        A new subject begins with its first entries, behind the head of an empty Journal; an
        examination names its patient by the fact `exam:patient`. Times are kept as given (see
        `clock`). Raises Conflict, with what is new, when the journal has grown since it was read;
        ValueError for a draft that is no entry. Nothing is then written.
        """
        with writing(self._engine, self._path) as connection:
            entries = journals.append(
                connection, subject, expected_head, drafts, attachments, self._path
            )
            if entries:
                follow(connection, subject, entries, self._path)
        return entries

    def journal(self, subject: str) -> Journal:
        """The journal of a subject; KnownError `no-subject` or `broken-journal`."""
        with reading(self._engine, self._path) as connection:
            return journals.read_journal(connection, subject, self._path)

    def patient(self, subject: str) -> Patient:
        """The patient of a subject as their journal folds."""
        return fold_patient(self.journal(subject))

    def examination(self, name: str) -> Examination:
        """An examination by its subject, or by what stands behind `examination:` in it.

        KnownError `incomplete` while it has no date, examiner or patient.
        """
        subject = _subject(name)
        with reading(self._engine, self._path) as connection:
            journal = journals.read_journal(connection, subject, self._path)
            facts = facts_of(journal.live(), "exam:")
            owner = facts.get("patient")
            if not isinstance(owner, str) or not {"examined_on", "examiner"} <= set(facts):
                raise KnownError("incomplete", self._path, what=subject)
            patient = journals.read_journal(connection, owner, self._path)
        return fold_examination(journal, fold_patient(patient))

    def earlier(self, name: str) -> Examination | None:
        """The patient's latest examination before this one that may be shown beside it.

        It is not struck through and of the same series: a student's is never held against a
        reference or another student's.
        """
        before = next(self._before(name), None)
        return self.examination(before.subject) if before else None

    def visits_before(self, name: str) -> tuple[Examination, ...]:
        """All of the patient's examinations before this one that `earlier` may give, oldest first.

        One that has no date yet is left out.
        """
        kept = [row.subject for row in self._before(name) if row.examined_on]
        return tuple(self.examination(subject) for subject in reversed(kept))

    def _before(self, name: str) -> Iterator[ExaminationRow]:
        """The rows that lie before this one and may be shown beside it, the latest first."""
        rows = iter(self.examinations(self.owner(name)))
        now = next((row for row in rows if row.subject == _subject(name)), None)
        for row in rows if now else ():
            if now and not row.in_error and is_series(_made(row), _made(now)):
                yield row

    def owner(self, name: str) -> str:
        """The patient's subject of an examination; KnownError `incomplete` while it names none."""
        subject = _subject(name)
        owner = facts_of(self.journal(subject).live(), "exam:").get("patient")
        if not isinstance(owner, str):
            raise KnownError("incomplete", self._path, what=subject)
        return owner

    def examinations(self, patient: str) -> tuple[ExaminationRow, ...]:
        """The examinations of a patient, the latest first; on one day the one begun last."""
        column, first = tables.examination.c, tables.journal.c
        begun = (first.subject == column.subject) & (first.sequence == 1)
        query = select(tables.examination).join(tables.journal, begun)
        order = (column.examined_on.desc(), first.at.desc(), column.subject)
        with reading(self._engine, self._path) as connection:
            rows = connection.execute(query.where(column.patient == patient).order_by(*order)).all()
        return tuple(
            ExaminationRow(*[*row[:-2], bool(row.signed), bool(row.in_error)]) for row in rows
        )

    def of_purposes(self, purposes: Sequence[Purpose]) -> tuple[str, ...]:
        """The subjects of all dated examinations of these purposes, by day, but for struck ones."""
        column = tables.examination.c
        wanted = column.purpose.in_([one.value for one in purposes])
        query = select(column.subject).where(wanted, column.in_error == 0, column.examined_on != "")
        with reading(self._engine, self._path) as connection:
            return tuple(connection.scalars(query.order_by(column.examined_on, column.subject)))

    def attachment(self, hash_hex: str) -> Attachment:
        """The bytes that an `attach` entry names by their SHA-256; KnownError if not there."""
        column = tables.attachment.c
        query = select(column.bytes, column.type).where(column.hash == hash_hex)
        with reading(self._engine, self._path) as connection:
            found = connection.execute(query).one_or_none()
        if found is None:
            raise KnownError("no-attachment", self._path, what=hash_hex)
        return Attachment(*found)

    def last_written_at(self) -> str:
        """The time of the entry written last, as it was given; "" in an empty store."""
        query = select(tables.journal.c.at).order_by(literal_column("rowid").desc()).limit(1)
        with reading(self._engine, self._path) as connection:
            return connection.scalar(query) or ""

    def census(self) -> Census:
        """How much the store holds."""
        with reading(self._engine, self._path) as connection:
            return take_census(connection)

    def verify(self) -> Verification:
        """Check the file and walk every chain; KnownError `damaged` if the file is not whole."""
        with reading(self._engine, self._path) as connection:
            check_file(connection, self._path)
            return verify(connection)

    def rebuild_index(self) -> None:
        """Make the index again from the journals."""
        with writing(self._engine, self._path) as connection:
            make_index(connection, self._path)

    def back_up(self, out: Path) -> backup.Backup:
        """Write a verified copy to a new file; status 6 if it cannot be written."""
        return backup.back_up(self._engine, self._path, out)

    def back_up_at_close(self, folder: Path | None = None) -> backup.Backup:
        """Write a verified copy to `backups/` or another folder; the last seven are kept."""
        return backup.back_up_at_close(self._engine, self._path, folder or self.folder / BACKUPS)


def _made(row: ExaminationRow) -> tuple[str, str]:
    return row.purpose, row.examiner


def _subject(name: str) -> str:
    """An examination's subject from itself or from what stands behind `examination:` in it."""
    return name if name.startswith("examination:") else f"examination:{name}"


def _shortcomings(engine: Engine, path: Path) -> list[str]:
    """What is not as it should be with an open store, one sentence each."""
    found = []
    with reading(engine, path) as connection:
        if _journal_mode(connection) != "wal":
            found.append(warning("journal-delete"))
    with told(path):
        private = [make_private(path.parent, 0o700), make_private(path, 0o600)]
    if not all(private):
        found.append(warning("not-private", where=path.parent))
    return found


def _journal_mode(connection: Connection) -> str:
    return str(connection.exec_driver_sql("PRAGMA journal_mode").scalar())
