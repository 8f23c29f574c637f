"""The service's unit as the Debian package brings it: how far it opens the machine, and that a station does its work
where the calls that the unit does not allow are refused. No service manager runs here: the calls are refused by
strace, by the list that systemd-analyze expands (systemd 252, systemd.exec(5), SystemCallFilter).

Argument: the unit.
"""
import os
import pathlib
import re
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
MOST_EXPOSED = 2.0  # of 10, as systemd-analyze counts
STATIONS = ("station_shelf_test.py", "station_lan_test.py")


def answer(*command):
    return subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=True,
                          env=os.environ | {"SYSTEMD_COLORS": "0", "LC_ALL": "C.UTF-8"}).stdout


def check(is_so, claim):
    if not is_so:
        sys.exit(f"not so: {claim}")
    print(f"ok: {claim}", flush=True)


def groups():
    """Each group of system calls, and what stands in it: calls and other groups."""
    found, group = {}, None
    for line in answer("systemd-analyze", "syscall-filter").splitlines():
        if line.startswith("@"):
            group = found[line.strip()] = []
        elif line.startswith(" ") and group is not None and not line.strip().startswith("#"):
            group.append(line.strip())
    return found


def calls_of(name, known):
    if not name.startswith("@"):
        return {name}
    return set().union(*(calls_of(part, known) for part in known[name]))


def allowed(unit):
    known = groups()
    calls = set()
    for line in re.findall(r"^SystemCallFilter=(.*)$", unit, re.M):
        named = set().union(*(calls_of(name, known) for name in line.lstrip("~").split()))
        calls = calls - named if line.startswith("~") else calls | named
    return calls | calls_of("@default", known)


def refusing(program, calls, folder):
    """A program that runs the station with every other call refused, and notes which were."""
    wrapper = folder / "loadlight"
    known = ",".join("?" + call for call in sorted(calls))
    wrapper.write_text(f"#!/bin/sh\nexec strace -D -f -qq -o {folder}/calls.$$ -e 'inject=!{known}:error=EPERM' {program} \"$@\"\n",
                       encoding="utf-8")
    wrapper.chmod(0o755)
    return wrapper


def main():
    path = pathlib.Path(sys.argv[1])
    unit = path.read_text(encoding="utf-8")
    exposed = re.search(r"exposure level for \S+: ([0-9.]+)",
                        answer("systemd-analyze", "security", "--offline=true", "--no-pager", str(path)))
    check(exposed and float(exposed[1]) <= MOST_EXPOSED, f"the unit opens little of the machine: {exposed and exposed[1]} of 10")
    check("SystemCallErrorNumber=EPERM" in unit.splitlines(), "a call that it does not allow is refused, and ends nothing")
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        wrapper = refusing(os.environ["LOADLIGHT"], allowed(unit), folder)
        for test in STATIONS:
            done = subprocess.run([sys.executable, "-B", HERE / test], env=os.environ | {"LOADLIGHT": str(wrapper)}, check=False,
                                  stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
            check(done.returncode == 0, f"{test} passes so\n{done.stdout[-3000:] if done.returncode else ''}".strip())
        told = "".join(file.read_text(encoding="utf-8", errors="replace") for file in folder.glob("calls.*"))
    refused = sorted(set(re.findall(r"(\w+)\([^\n]*\(INJECTED\)", told)))
    check("openat(" in told, f"its calls were looked at; refused were: {', '.join(refused) or 'none'}")


if __name__ == "__main__":
    main()
