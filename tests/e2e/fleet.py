"""The README's two queries, run by DuckDB on what `gapwright export --parquet` writes.

    python tests/e2e/fleet.py PROGRAM

Compares their answers with `decide` and `trend` of the same yards: readings exactly, and the growth
of exact readings to nine digits, where least squares and maximum likelihood are the same line.
"""

import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

import duckdb

program = str(pathlib.Path(sys.argv[1]).resolve())
readme = pathlib.Path(__file__).resolve().parents[2] / "README.md"
beyond, growth = re.findall(r"```sql\n(.*?);\n```", readme.read_text(encoding="utf-8"), re.S)


def run(*words):
    done = subprocess.run([program, *words], capture_output=True, text=True)
    assert done.returncode == 0, (words, done.stderr)
    return done.stdout


def rows(query):
    found = duckdb.sql(query)
    return [dict(zip(found.columns, row)) for row in found.fetchall()]


def exact_yard():
    """Gaps read exactly, shimmed once: growth 4 and 6 micrometres an hour with a little scatter."""
    readings = ["shear,station,taken,meter_h,go_mm,no_go_mm,blade_temp_c"]
    for visit in range(24):
        hours = 8 * visit
        for station, rate in (("P1", 0.004), ("P2", 0.006)):
            scatter = ((visit * 7919 + 13) % 11 - 5) * 0.003
            gap = 0.4 + rate * hours + scatter - (0.3 if 12 <= visit else 0.0)
            day = f"2025-12-{visit + 1:02d}" if visit < 12 else f"2026-01-{visit - 11:02d}"
            readings.append(f"exact,{station},{day}T14:00:00Z,{hours},{gap:.4f},{gap:.4f},")
    work = ["shear,line,at,meter_h,kind,put_in_mm,take_out_mm,edge"]
    work.append("exact,P,2025-12-12T14:00:00Z,88,shims,0.3,,")
    pathlib.Path("readings.csv").write_text("\n".join(readings) + "\n")
    pathlib.Path("work.csv").write_text("\n".join(work) + "\n")
    run("import", "exact-yard", "readings.csv", "--work", "work.csv", "--create")


def same_as_decide(yard):
    """Every last reading is the one that `decide` speaks of, and none beyond a limit is missing."""
    decided = {
        (shear["shear"], station["station"]): station
        for shear in json.loads(run("decide", yard, "--json"))["shears"]
        for line in shear["lines"]
        for station in line["stations"]
    }
    everything = re.sub(r"\nwhere working_max.*", "", beyond)
    assert everything != beyond
    last = {(row["shear"], row["station"]): row for row in rows(everything) if row["shear"] != "exact"}
    assert last.keys() == decided.keys(), "stations differ"
    for key, station in decided.items():
        found = (last[key]["go_mm"] or 0.0, last[key]["no_go_mm"])
        assert found == (station["go_mm"] or 0.0, station["no_go_mm"]), (key, last[key], station)
    wide = {(row["shear"], row["station"]) for row in rows(beyond)}
    expected = {
        key for key, row in last.items()
        if row["working_max_mm"] < (row["go_mm"] or 0.0)
        or (row["no_go_mm"] or 1e9) <= row["working_min_mm"]
    }
    assert wide == expected and wide, (wide, expected)
    return len(decided), len(wide)


def same_as_trend(yard, shear):
    found = {row["station"]: row for row in rows(growth) if row["shear"] == shear}
    trends = json.loads(run("trend", yard, "--shear", shear, "--json"))
    assert {trend["station"] for trend in trends} == found.keys()
    for trend in trends:
        row = found[trend["station"]]
        assert row["readings"] == trend["observations"], (row, trend["observations"])
        rate = trend["rate_mm_per_h"]
        assert abs(row["growth_mm_per_h"] - rate) < 1e-9, (row, rate)
    return [trend["rate_mm_per_h"] for trend in trends]


with tempfile.TemporaryDirectory() as here:
    os.chdir(here)
    run("sample", "yard", "--sessions", "48")
    exact_yard()
    run("export", "yard", "--parquet", "fleet")
    run("export", "exact-yard", "--parquet", "fleet")
    again = run("export", "yard", "--parquet", "fleet")
    assert "already" in again, again
    stations, wide = same_as_decide("yard")
    rates = same_as_trend("exact-yard", "exact")
    assert len(rows("from read_parquet('fleet/work_done/**/*.parquet', hive_partitioning = true)")) > 1
    print(f"fleet: DuckDB {duckdb.__version__}, {stations} last readings as decide has them, {wide} of")
    print(f"them outside their limits, growth of exact readings as trend has it: {rates}")
