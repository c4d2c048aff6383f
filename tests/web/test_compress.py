"""What is public goes out compressed, and stays the same bytes; what is private goes out untouched."""
import gzip
import hashlib

import brotli
import pytest

GZIP = {"Accept-Encoding": "gzip, deflate"}
# as browsers ask over TLS and on the loopback address
WAYS = pytest.mark.parametrize("asked, way, open_up", [
    ("gzip, deflate", "gzip", gzip.decompress), ("gzip, deflate, br, zstd", "br", brotli.decompress)])


@pytest.fixture
def http(app):
    return app.test_client()


@WAYS
@pytest.mark.parametrize("address", ["/static/vendor/micropython.wasm", "/static/joined/app.js", "/app-data/engine.json", "/app/", "/sw.js"])
def test_public_file_goes_out_compressed_to_who_takes_it(http, address, asked, way, open_up):
    packed, plain = http.get(address, headers={"Accept-Encoding": asked}), http.get(address)
    assert packed.headers["Content-Encoding"] == way
    assert "Content-Encoding" not in plain.headers
    assert open_up(packed.data) == plain.data
    assert len(packed.data) == int(packed.headers["Content-Length"]) < len(plain.data)
    assert "Accept-Encoding" in packed.headers["Vary"] and "Accept-Encoding" in plain.headers["Vary"]


@WAYS
@pytest.mark.parametrize("address", ["/static/vendor/micropython.wasm", "/app-data/engine.json"])
def test_tag_of_a_kept_file_is_answered_without_its_bytes(http, address, asked, way, open_up):
    tag = http.get(address, headers={"Accept-Encoding": asked}).headers["ETag"]
    again = http.get(address, headers={"Accept-Encoding": asked, "If-None-Match": tag})
    assert again.status_code == 304 and again.data == b"" and again.headers["ETag"] == tag


def test_listed_hash_is_that_of_the_decompressed_bytes(http):
    listed = http.get("/app-data/files.json").get_json()["files"]
    for address in ("/static/vendor/micropython.wasm", "/app-data/engine.json"):
        assert hashlib.sha256(gzip.decompress(http.get(address, headers=GZIP).data)).hexdigest().startswith(listed[address])


@pytest.mark.parametrize("headers", [{"Accept-Encoding": "deflate"}, {"Accept-Encoding": "gzip;q=0"}, {}])
def test_who_takes_neither_gets_the_plain_file(http, headers):
    assert "Content-Encoding" not in http.get("/static/joined/app.js", headers=headers).headers


@pytest.mark.parametrize("address", ["/", "/static/vendor/fonts/atkinson-400.woff2"])
def test_private_replies_and_files_that_do_not_shrink_are_left_alone(http, address):
    assert "Content-Encoding" not in http.get(address, headers=GZIP).headers
