#!/usr/bin/env python3
"""Writes or checks the table of docs/rulebase.md: what the shipped rules imply for each finding.

  rates_table.py --program SLIPCASE --rules FOLDER --page PAGE           writes the table into the page
  rates_table.py --program SLIPCASE --rules FOLDER --page PAGE --check   exit status 1 if it is not so

The starting figures below are judgement: of 100 jobs that come in with any complaint, how many show the
finding. A row whose implied share lies more than a third away from its figure must say why.
"""
import argparse
import json
import pathlib
import subprocess
import sys

BEGIN, END = "<!-- rates: made by tests/reference/rates_table.py -->", "<!-- end of rates -->"

# (finding, member or None for all of them, starting figure, why it differs); of grades the weakest.
# `any` behind a figure: it counts cars in which at least one member shows it.
ROWS = [
    ("flare", "3-4", 4, "worn linings, seals and a starved fill together give more, by their own rates"),
    ("flare", None, "15 any", "24 shifts, each misnamed in 2 of 100; few are ever asked"),
    ("tie_up", None, "6 any", "24 shifts, each misnamed in 1 of 100"),
    ("harsh", None, "25 any", "24 shifts, each misnamed in 3 of 100"),
    ("harsh", "2-1", 15, ""),
    ("harsh", "N-1", 12, ""),
    ("harsh", "N-R", 12, ""),
    ("flare_then_bang", None, 8, ""),
    ("all_shifts_alike", None, 12, ""),
    ("slip", None, "9 any", "the worn linings alone are in 15 of 100 jobs, and each shows it in about half of them"),
    ("late_drive", None, 12, "low level and hard sleeve seals, 1 of 10 jobs each, give more by themselves"),
    ("late_reverse", None, 12, "as for D"),
    ("no_forward", None, 2, ""),
    ("no_reverse", None, 4, ""),
    ("no_drive", None, 4, ""),
    ("shudder_at_cruise", None, 15, ""),
    ("hunting", None, 6, ""),
    ("stall_at_stop", None, 2, ""),
    ("shakes_in_drive", None, 10, ""),
    ("nudge_at_lights", None, 8, ""),
    ("thump_without_shift", None, 8, ""),
    ("limp_mode", None, 18, ""),
    ("lamp_only", None, 8, ""),
    ("restart_cures", None, 12, ""),
    ("pump_whine", None, 5, "low level, filter and pump give more by their own rates"),
    ("gear_noise", None, 5, ""),
    ("buzz", None, 4, ""),
    ("worse_cold", None, 20, ""),
    ("worse_hot", None, 15, "worn bores, blocked coolers and thin margins of worn linings give nearly all of it"),
    ("came_suddenly", None, 25, "what began right after work is an answer of its own here: `began_after_work`"),
    ("light_pedal_only", None, 15, ""),
    ("heavy_pedal_only", None, 8, ""),
    ("level_low", None, 15, ""),
    ("level_high", None, 4, ""),
    ("dark_fluid", None, 35, ""),
    ("burnt_smell", None, 12, "burnt linings, converter clutches and overheating give more by their own rates"),
    ("milky_fluid", None, 2, ""),
    ("foam", None, 3, ""),
    ("thick_paste", None, 30, ""),
    ("bright_metal", None, 6, ""),
    ("friction_flakes", None, 8, "five linings, each with flakes in about 4 of 10 of its jobs"),
    ("outside_leak", None, 20, ""),
    ("plug_wet", None, 10, ""),
    ("line_low_hot", None, 10, ""),
    ("line_low_cold", None, 10, ""),
    ("tcc_slip_logged", None, 10, ""),
    ("slip_logged", None, "9 any", "as for slip that is felt"),
    ("supply_low", None, 8, "asked for a drop that is too far, not for a weak battery, which many cars have"),
    ("pressure_up", None, "25 any", ""),
    ("pressure_down", None, "8 any", ""),
    ("all_late", None, 12, ""),
    ("rotating_up", None, 5, "the figure counts every group that shares a part; see also `neighbours_out`"),
    ("all_near_zero", None, 12, "counted before the history is known; a clearing on the card multiplies its cause"),
    ("values_frozen", None, 8, ""),
    ("steady_rise", None, "10 any", "five elements, each in 2 of 100 without a cause; the figure is for larger rises"),
]


def rates(program, rules):
    command = [program, "rules", "list", "--rates", "--json", "--only-rules", rules]
    listing = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
    return {finding["id"]: finding["rates"] for finding in listing["findings"]}


def shares(found, name, member):
    """(share, share by causes) in jobs of 100 of the weakest grade: of one finding or of each member."""
    wanted = f"{name} of {member}" if member else name
    picked = [r for i, r in found.items() if i == wanted or (not member and i.startswith(name + " of "))]
    if not picked:
        sys.exit(f"rates_table.py: the rules have no finding `{wanted}`")
    return [(100 * r[0]["share"], 100 * r[0]["share_by_causes"]) for r in picked]


def text(values):
    low, high = round(min(values)), round(max(values))
    return f"{low}" if low == high else f"{low} to {high}"


def agrees(values, figure, of_any):
    if not of_any:
        return abs(values[0] - figure) <= figure / 3 + 0.01
    # At least one member shows it: not more seldom than the commonest, not more often than all added up.
    return max(values) <= figure <= sum(values) <= 2 * figure


def row(found, name, member, figure, why):
    of_any = isinstance(figure, str)
    number = int(str(figure).split()[0])
    both = shares(found, name, member)
    values = [share for share, _ in both]
    if not agrees(values, number, of_any) and not why:
        return None, f"`{name}` comes to {text(values)} of 100 against {figure}: say why in ROWS"
    title = f"`{name}`" + (f" of {member}" if member else "")
    each = " each" if len(both) > 1 else ""
    return f"| {title} | {text([c for _, c in both])}{each} | {text(values)}{each} | {figure} | {why} |", None


def table(found):
    lines = ["| finding | from the listed causes | of all jobs | starting figure | why it differs |",
             "| --- | --- | --- | --- | --- |"]
    wrong = []
    for entry in ROWS:
        line, problem = row(found, *entry)
        wrong += [problem] if problem else []
        lines += [line] if line else []
    return "\n".join(lines), wrong


def main():
    arguments = argparse.ArgumentParser()
    for name in ("--program", "--rules", "--page"):
        arguments.add_argument(name, required=True)
    arguments.add_argument("--check", action="store_true")
    given = arguments.parse_args()
    made, wrong = table(rates(given.program, given.rules))
    if wrong:
        sys.exit("\n".join(wrong))
    page = pathlib.Path(given.page)
    before, rest = page.read_text(encoding="utf-8").split(BEGIN)
    after = rest.split(END)[1]
    wanted = f"{before}{BEGIN}\n{made}\n{END}{after}"
    if not given.check:
        page.write_text(wanted, encoding="utf-8")
    elif wanted != page.read_text(encoding="utf-8"):
        sys.exit(f"{page} is older than the rules; write its table again with rates_table.py (no --check)")


if __name__ == "__main__":
    main()
