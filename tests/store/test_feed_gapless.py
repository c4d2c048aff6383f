"""A reader that follows the feed while others write never misses a number, on each database."""
import threading
from concurrent.futures import ThreadPoolExecutor

from tests.store.conftest import a_revision
from webapp.store import Store, revisions

WRITERS, EACH = 4, 25
ALL = WRITERS * EACH


def write(url, start):
    """Write revisions, a few a transaction; every third transaction is undone at its end."""
    store, left, turn = Store(url), EACH, 0
    start.wait()
    while left:
        turn += 1
        batch = min(1 + turn % 3, left)
        try:
            with store.writing() as connection:
                for _ in range(batch):
                    revisions.add(connection, a_revision(), "accepted")
                if turn % 3 == 0:
                    raise InterruptedError
        except InterruptedError:
            continue
        left -= batch
    store.close()


def follow(url, start, ended):
    """Numbers in the order in which a phone sees them that pulls all the time, three at most at once."""
    store, seen, after = Store(url), [], 0
    start.wait()
    while True:
        last_look = ended.is_set()  # asked before the look: what was written before it is seen
        with store.reading() as connection:
            found, after, more = revisions.feed(connection, after, 3)
        seen += [held["number"] for held in found]
        if last_look and not more:
            store.close()
            return seen


def test_concurrent_writers_leave_no_gap_and_a_concurrent_reader_misses_nothing(store):
    start, ended = threading.Barrier(WRITERS + 2), threading.Event()
    with ThreadPoolExecutor(WRITERS + 2) as pool:
        readers = [pool.submit(follow, store.url, start, ended) for _ in range(2)]
        writers = [pool.submit(write, store.url, start) for _ in range(WRITERS)]
        try:
            for writer in writers:
                writer.result()
        finally:
            ended.set()
        assert [reader.result() for reader in readers] == [list(range(1, ALL + 1))] * 2


def test_a_reader_does_not_see_a_transaction_that_is_still_open(store):
    with store.writing() as connection:
        revisions.add(connection, a_revision(), "accepted")
        with store.reading() as other:
            assert revisions.feed(other, 0, 10) == ([], 0, False)
    with store.reading() as other:
        assert [held["number"] for held in revisions.feed(other, 0, 10)[0]] == [1]


def test_readers_do_not_wait_for_a_writer(store):
    """Reading within somebody's writing would hang for the busy time if it waited."""
    with store.writing() as connection:
        revisions.add(connection, a_revision(), "accepted")
        with ThreadPoolExecutor(1) as pool:
            assert pool.submit(store.answers).result(timeout=10) is True
