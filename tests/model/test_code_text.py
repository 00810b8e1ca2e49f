"""The text of a code: plain or packed, it gives the file back byte for byte, or none at all."""

from __future__ import annotations

import zlib

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.carried_file import LARGEST_FILE, Carried
from cardmaker.model.code_text import (
    DamagedCode,
    ForeignCode,
    _base45,
    _from_base45,
    file_in,
    packed_text,
    plain_text,
)
from tests.helpers.places import ROOT

DATA = (ROOT / "patterns" / "nine.yaml").read_bytes()
NINE = Carried("nine.yaml", DATA)


@given(st.binary(max_size=300), st.sampled_from(["a.yaml", "Три дорожки.yml", "two  words 01234567.yaml"]))
def test_every_file_comes_back_from_packed_text(data: bytes, name: str) -> None:
    assert file_in(packed_text(Carried(name, data))) == Carried(name, data)


@given(st.text(max_size=300))
def test_every_text_comes_back_from_plain_text(text: str) -> None:
    file = Carried("a.yaml", text.encode(errors="replace"))
    plain = plain_text(file)
    assert plain is None if file.data.startswith(b"\xef\xbb\xbf") else file_in(plain or b"") == file


def test_plain_text_is_the_file_itself_after_a_remark() -> None:
    plain = plain_text(NINE)
    assert plain
    first, _, rest = plain.partition(b"\n")
    assert first == b"# cardmaker file nine.yaml %08x" % zlib.crc32(DATA, zlib.crc32(b"nine.yaml"))
    assert rest == DATA
    assert yaml.safe_load(plain) == yaml.safe_load(DATA)


@pytest.mark.parametrize("data", [b"\xff\xfet\0", b"caf\xe9", b"\xef\xbb\xbftitle: x"])
def test_what_no_telephone_would_show_as_it_is_is_packed(data: bytes) -> None:
    assert plain_text(Carried("a.yaml", data)) is None


@pytest.mark.parametrize(
    ("data", "digits"),
    [(b"AB", b"BB8"), (b"Hello!!", b"%69 VD92EX0"), (b"base-45", b"UJCLQE7W581"), (b"ietf!", b"QED8WEX0")],
)  # RFC 9285, sections 4.3 and 4.4
def test_base45_is_that_of_the_standard(data: bytes, digits: bytes) -> None:
    assert _base45(data) == digits
    assert _from_base45(digits) == data


@pytest.mark.parametrize("digits", [b"GGW", b"::", b"A", b"AB8a", b"AB8\n0"])  # 65536, 2024, half a byte, no digits
def test_what_is_no_base45_is_damaged(digits: bytes) -> None:
    with pytest.raises(DamagedCode):
        _from_base45(digits)


@pytest.mark.parametrize("text", [b"", b"https://example.org/", b"title: Nine\n", b"# cardmaker\n", b"\xff\xfe", DATA])
def test_a_text_of_another_program_is_told_from_ours(text: bytes) -> None:
    with pytest.raises(ForeignCode):
        file_in(text)


def changed(text: bytes, at: int) -> bytes:
    return text[:at] + bytes([text[at] ^ 1]) + text[at + 1 :]


def test_one_wrong_sign_is_damage_wherever_it_is() -> None:
    for text in (plain_text(NINE) or b"", packed_text(NINE)):
        for at in range(len(text)):
            with pytest.raises((DamagedCode, ForeignCode)):
                file_in(changed(text, at))


def test_half_a_text_is_damage() -> None:
    for text in (plain_text(NINE) or b"", packed_text(NINE)):
        with pytest.raises(DamagedCode):
            file_in(text[: len(text) // 2])


def packed(text: bytes) -> bytes:
    return b"CARDMAKER:ZLIB:BASE45:" + _base45(zlib.compress(text, 9))


def test_what_unpacks_without_end_is_damage() -> None:
    with pytest.raises(DamagedCode):
        file_in(packed(b"# cardmaker file a.yaml 00000000\n" + bytes(LARGEST_FILE)))
    with pytest.raises(DamagedCode):
        file_in(packed(DATA))  # without its line


@pytest.mark.parametrize("name", ["../nine.yaml", "/etc/nine.yaml", "nine.sh", "con.yaml", ".yaml", "a\u202e.yaml"])
def test_a_name_that_leads_elsewhere_is_damage(name: str) -> None:
    plain = plain_text(Carried(name, DATA))
    assert plain
    with pytest.raises(DamagedCode):
        file_in(plain)
