"""One Store: the database behind it, its migrations, and transactions that read or write."""
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util.exc import CommandError
from sqlalchemy import create_engine, event, text
from sqlalchemy.exc import (
    ArgumentError, DataError, DBAPIError, IntegrityError, InterfaceError, ProgrammingError, SQLAlchemyError)

from .errors import StoreError

MIGRATIONS = Path(__file__).parent / "migrations"
_BUSY_S = 30
# what a database says of one row's values; all else it says of itself
_OF_A_ROW = (DataError, IntegrityError, InterfaceError, ProgrammingError)


def _normal_url(url):
    """PostgreSQL addresses as people write them, with the driver that is installed."""
    for prefix in ("postgresql://", "postgres://"):
        if url.startswith(prefix):
            return "postgresql+psycopg://" + url[len(prefix):]
    return url


def _prepare_sqlite(engine):
    """Write-ahead log, every commit on disk, and transactions that say whether they write before they begin."""
    @event.listens_for(engine, "connect")
    def connect(connection, _):
        connection.isolation_level = None
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
            connection.execute("PRAGMA " + pragma)

    @event.listens_for(engine, "begin")
    def begin(connection):
        writes = connection.get_execution_options().get("writes")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def is_text(value):
    """True for a text that every database keeps: Unicode without NUL."""
    return isinstance(value, str) and "\0" not in value and not any("\ud800" <= letter <= "\udfff" for letter in value)


def alone(connection, work, *given):
    """(what `work(connection, *given)` returns, None), or (None, the exception that it ended with): then what it wrote is undone, and
    nothing else of the transaction. A failure of the database itself is raised."""
    try:
        with connection.begin_nested():
            return work(connection, *given), None
    except Exception as error:
        if isinstance(error, StoreError) or isinstance(error, DBAPIError) and not isinstance(error, _OF_A_ROW):
            raise
        return None, error


class Store:
    """The database at `url`: sqlite:///FILE or postgresql://...; `migrate()` brings its tables up to date.

    Raises StoreError for what is no address.
    """

    def __init__(self, url):
        self.url = _normal_url(url)
        options = {"connect_args": {"timeout": _BUSY_S}} if self.url.startswith("sqlite") else {}
        try:
            self.engine = create_engine(self.url, pool_pre_ping=True, **options)
        except (ArgumentError, ImportError, ValueError) as error:
            raise StoreError("This is no address of a database: write sqlite:///FILE or postgresql://USER@HOST/NAME.") from error
        if self.engine.dialect.name == "sqlite":
            _prepare_sqlite(self.engine)

    def _alembic(self):
        config = Config()
        config.set_main_option("script_location", str(MIGRATIONS))
        config.attributes["engine"] = self.engine
        return config

    def migrate(self):
        """Create or upgrade the tables. Raises StoreError."""
        try:
            with self._errors():
                command.upgrade(self._alembic(), "head")
        except CommandError as error:
            raise StoreError("The database is newer than this program: run the newest version. (%s)" % error) from error

    def versions(self):
        """(migration that the database is at, or None; newest migration of this program). Raises StoreError."""
        with self._errors(), self.engine.connect() as connection:
            held = MigrationContext.configure(connection).get_current_revision()
        return held, ScriptDirectory.from_config(self._alembic()).get_current_head()

    @contextmanager
    def _errors(self):
        try:
            yield
        except SQLAlchemyError as error:
            raise StoreError("The database did not do it: %s" % str(getattr(error, "orig", None) or error).splitlines()[0]) from error

    @contextmanager
    def reading(self):
        """A connection whose reads belong together."""
        with self._errors(), self.engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def snapshot(self):
        """A connection that sees the store as it stands now, whatever is written meanwhile."""
        with self._errors(), self.engine.connect() as connection:
            if self.engine.dialect.name != "sqlite":  # there every reading transaction is one
                connection = connection.execution_options(isolation_level="REPEATABLE READ")
            with connection.begin():
                yield connection

    @contextmanager
    def writing(self):
        """A connection in a transaction that writes; committed at the end, undone by an exception. One writer at a time."""
        with self._errors(), self.engine.connect() as connection:
            connection = connection.execution_options(writes=True)
            with connection.begin():
                if self.engine.dialect.name != "sqlite":
                    connection.execute(text("SELECT number FROM counter FOR UPDATE"))
                yield connection

    def answers(self):
        """True when the database answers. Raises StoreError."""
        with self.reading() as connection:
            return connection.execute(text("SELECT number FROM counter")).scalar() is not None

    def close(self):
        """Give all connections back."""
        self.engine.dispose()
