"""One reader under a fuzzer guided by coverage; stops at the first input that is answered wrongly.

    python -m tests.bench.fuzz_target quantity -max_total_time=600 -timeout=10 -rss_limit_mb=2048 FOLDER

Needs the library atheris, which no other part of the project does. What stands in the folder is begun with, and what
reaches more is kept there; the options are those of its engine, libFuzzer. With `--seed-folder FOLDER` the folder gets
the good inputs that `tests.bench.fuzz` begins with, and FOLDER.dict the words to put in, for -dict=FOLDER.dict.
"""

import sys
from contextlib import suppress
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["rigcheck", "tomllib"]):
    from rigcheck.case import CaseError
    from rigcheck.case.reading.read import read_case_bytes
    from tests.bench.fuzz import BITS, case, quantity, seeds_of

RUNS = {"quantity": quantity, "case": case}


def main(arguments: list[str]) -> None:
    what, *options = arguments
    if options[0] == "--seed-folder":
        folder = Path(options[1])
        folder.mkdir(parents=True, exist_ok=True)
        for number, text in enumerate(seeds_of(what)):
            (folder / f"seed{number}").write_text(text, encoding="utf-8")
        words = ("".join(f"\\x{byte:02x}" for byte in one.encode("utf-8", "surrogatepass")) for one in BITS)
        folder.with_suffix(".dict").write_text("".join(f'"{one}"\n' for one in words if one))
        return

    def one(raw: bytes) -> None:
        RUNS[what](raw.decode("utf-8", "replace"))
        if what == "case":
            with suppress(CaseError):
                read_case_bytes(raw, name="fuzz.toml")

    atheris.Setup([sys.argv[0], *options], one)
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1:])
