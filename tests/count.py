"""Counts a JUnit report: the last line of a test run. Fails when a test failed, was skipped or none ran."""
import sys
import xml.etree.ElementTree as tree

suite = tree.parse(sys.argv[1]).getroot()
cases = suite.findall("testcase")
failed = [c.get("name") for c in cases if c.find("failure") is not None or c.get("status") == "fail"]
skipped = [c.get("name") for c in cases if c.get("status") in ("notrun", "disabled") or c.find("skipped") is not None]
for name in skipped:
    print("skipped:", name)
print(f"{len(cases) - len(failed) - len(skipped)} passed, {len(failed)} failed, {len(skipped)} skipped")
sys.exit(1 if failed or skipped or not cases else 0)
