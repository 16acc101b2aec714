"""Digests: against published SHA-256 values, and different whenever what went in differs."""

import pytest

from simengine.results import provenance

# FIPS 180-4 examples, published by NIST (from memory): the empty message and "abc"
PUBLISHED = {
    b"": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    b"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
}


@pytest.mark.parametrize("content", list(PUBLISHED))
def test_the_digest_of_a_scenario_is_sha256(content: bytes) -> None:
    assert provenance.scenario_digest(content) == PUBLISHED[content]


def test_an_override_makes_another_scenario_and_its_order_does_not_matter() -> None:
    plain = provenance.scenario_digest(b"x")
    one = provenance.scenario_digest(b"x", {"a": "1", "b": "2"})
    assert one != plain
    assert one == provenance.scenario_digest(b"x", {"b": "2", "a": "1"})
    assert one != provenance.scenario_digest(b"x", {"a": "1", "b": "3"})


def test_the_program_has_one_digest_for_its_sources() -> None:
    assert provenance.program_digest() == provenance.program_digest()
    assert len(provenance.program_digest()) == 64
