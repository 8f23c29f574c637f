"""Clocks that are wrong: set back, a year ahead, at 1970, at 2100, two stations apart, changed to and from summer
time. Nothing they do clears a package undue, and one way leads back: put the clock right, let a lead accept it,
run the day's test again. The clock is libfaketime's; a station's own is turned while it serves, through a file.
"""

import datetime
import pathlib
import sqlite3
import tempfile
import zoneinfo

import office
import station

SET_AT = "2027-03-08 08:00:00"
WHY = ("--why", "the radio's clock says so")


def shifted(at, **by):
    return str(datetime.datetime.fromisoformat(at) + datetime.timedelta(**by))


class Clocks(office.Case):
    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory(prefix="loadlight-outside-")
        cls.addClassCleanup(folder.cleanup)
        cls.shelf, cls.made = pathlib.Path(folder.name), {}

    def office_at(self, at, *options):
        """A copy of the office that these options of `init` make, its clock turned."""
        if options not in self.made:
            made = office.Office(self.shelf / f"office-{len(self.made)}", at=SET_AT)
            self.made[options] = made.fill(*options)
        copy = self.made[options].copied_to(self.folder / f"office-{len(list(self.folder.iterdir()))}")
        copy.at = at
        return copy

    def check(self, place, package, **more):
        return place.run("check", "--id", package, **more).lines[0]

    def reasons(self, place, package, **more):
        return office.codes(self.check(place, package, **more))

    def see(self, place, package, at, *reasons):
        place.at = at
        self.assertEqual(self.reasons(place, package), list(reasons), at)

    def package_of(self, place):
        return place.released()[1][0]["package"]

    def accept(self, place):
        return place.ok("clock", "accept", *WHY, operator="MB")[0]

    def fill_today(self, place):
        """An office whose people begin on the day that its clock shows."""
        place.ok("init", "--zone", "UTC")
        for row in office.TABLES:
            place.ok(*[each for each in row if each not in ("--first-day", "2001-01-02")], operator="MB")

    def check_in_order_again(self, place):
        """The day's test once more, and a new package clears."""
        place.tested.clear()
        self.assertEqual(self.reasons(place, self.package_of(place)), [])
        self.assertEqual([line for line in place.run("ledger", "verify", operator=None).lines
                          if "where" in line], [])

    # ---- set back, ahead, at the ends of time

    def test_a_clock_set_back_holds_until_it_is_right(self):
        place = self.office_at("2027-03-09 09:00:00")
        package = self.package_of(place)
        now = place.at
        self.see(place, package, shifted(now, minutes=-15))
        self.see(place, package, shifted(now, minutes=-16), "clock-behind-record")
        self.see(place, package, shifted(now, days=-400), "clock-behind-record")
        self.see(place, package, now)
        told = [event["body"]["details"]["reasons"] for event in place.events()[-4:]]
        self.assertEqual(told, ["", "clock-behind-record", "clock-behind-record", ""])

    def test_a_year_ahead_and_put_right(self):
        place = self.office_at("2027-03-09 09:00:00")
        before = self.package_of(place)
        place.later(days=365)
        ahead = self.package_of(place)
        self.assertEqual(self.reasons(place, ahead), [])
        self.assertEqual(self.reasons(place, before), ["past-use-by"])
        place.later(days=-365, hours=1)
        for package in (before, ahead):
            self.assertEqual(self.reasons(place, package), ["clock-behind-record"])
        refused = place.run("label", "--contents", "EXAM", "--load", "S1-9", "--kind", "P", "--packed",
                            "--out", place.pdf())
        self.check_failure(refused, "clock-behind-record", 20)
        self.check_failure(place.run("clock", "accept", *WHY, operator="JT"), "lead-required", 20)
        self.assertGreater(self.accept(place)["ahead_seconds"], 364 * 86400)
        self.assertEqual(self.reasons(place, before), [])
        self.assertEqual(self.reasons(place, ahead), ["label-record-mismatch"])
        self.check_in_order_again(place)
        self.see(place, ahead, shifted(place.at, days=370), "past-use-by")
        last = [event for event in place.events() if event["kind"] == "clock-corrected"]
        self.assertEqual([event["operator"] for event in last], ["MB"])
        self.assertEqual(last[0]["body"]["details"]["why"], WHY[1])
        self.assertIn("doubt", last[0]["body"]["details"])

    def test_the_test_of_a_day_that_the_clock_made_up_counts_for_no_day(self):
        """Monday's test, recorded as Tuesday's, is not Tuesday's."""
        place = self.office_at("2027-03-09 17:00:00")
        place.test_of_the_day()
        place.at = "2027-03-08 18:30:00"
        self.accept(place)
        place.at = "2027-03-09 18:30:00"
        place.tested.add(("S1", "2027-03-09"))
        load, _ = place.evident()
        line = place.run("load", "release", load).lines[0]
        self.assertEqual((line["state"], office.codes(line)), ("finished", ["daily-test-missing"]))
        self.check_in_order_again(place)

    def test_1970(self):
        """A flat battery: everything holds, nobody can accept it, and setting it right is enough."""
        place = self.office_at("2027-03-09 09:00:00")
        package, now = self.package_of(place), place.at
        self.see(place, package, "1970-01-01 00:05:00", "clock-behind-record")
        self.check_failure(place.run("clock", "accept", *WHY, operator="MB"), "bad-value", 2)
        self.check_failure(place.run("load", "start", "S1-9"), "clock-behind-record", 20)
        self.see(place, package, shifted(now, minutes=1))
        self.check_in_order_again(place)

    def test_an_office_made_at_1970_holds_and_works_once_the_clock_is_right(self):
        place = office.Office(self.folder / "office", at="1970-01-01 00:05:00")
        self.fill_today(place)
        self.assertIn("clock-behind-record", self.reasons(place, "8Q4T0ZK3MW"))
        place.at = "2027-03-09 09:00:00"
        self.check_in_order_again(place)

    def test_2100_and_an_office_made_by_such_a_clock(self):
        place = self.office_at("2027-03-09 09:00:00")
        before, now = self.package_of(place), place.at
        self.see(place, before, "2100-02-28 10:00:00", "past-use-by")
        self.see(place, before, now, "clock-behind-record")
        self.accept(place)
        self.see(place, before, now)
        self.check_in_order_again(place)
        made = office.Office(self.folder / "ahead", at="2099-02-28 10:00:00")
        self.fill_today(made)
        ahead = self.package_of(made)
        made.at = now
        self.assertEqual(self.reasons(made, ahead), ["clock-behind-record"])
        self.accept(made)
        self.assertEqual(self.reasons(made, ahead), ["label-record-mismatch"])
        self.check_in_order_again(made)

    def test_2038(self):
        """The second that 32 bits end at is a second like any other."""
        end = "2038-01-19 03:14:07"
        place = self.office_at(shifted(end, hours=-2))
        package = self.package_of(place)
        self.see(place, package, end)
        self.see(place, package, shifted(end, seconds=1))
        self.see(place, package, "2038-07-18 23:59:59")
        self.see(place, package, "2038-07-19 00:00:00", "past-use-by")

    def test_summer_time_goes_on_after_2037(self):
        self.last_day("2040-07-01 15:00:00", "2040-07-03 03:59:59", "--shelf-life", "1", "--zone", "America/New_York")

    def test_nobody_is_shut_out_by_a_first_day_that_the_clock_made_up(self):
        place = self.office_at("2027-03-09 07:00:00")
        package = self.package_of(place)
        place.at = "2031-03-09 09:00:00"
        place.ok("operator", "add", "NL", "--name", "New Lead", "--role", "lead", operator="MB")
        place.ok("operator", "retire", "MB", operator="NL")
        place.at = "2027-03-09 09:00:00"
        self.assertEqual(self.reasons(place, package), ["clock-behind-record"])
        place.ok("clock", "accept", *WHY, operator="NL")
        place.ok("location", "add", "CAB9", "--name", "Cabinet 9", operator="NL")
        place.at = "2027-03-10 09:00:00"
        self.check_failure(place.run("location", "add", "CAB8", "--name", "Cabinet 8", operator="MB"),
                           "operator-not-current", 20)

    # ---- days of calendars and zones

    def last_day(self, started, last_instant, *options):
        """Clear at the day's last second, past its use-by day at the next."""
        place = self.office_at(shifted(started, hours=-1), *options)
        package = self.package_of(place)
        self.see(place, package, last_instant)
        self.see(place, package, shifted(last_instant, seconds=1), "past-use-by")

    def test_leap_days_and_the_year_end(self):
        self.last_day("2028-02-29 09:00:00", "2029-02-28 23:59:59", "--shelf-life", "365")
        self.last_day("2028-02-29 09:00:00", "2029-02-28 23:59:59", "--profile", "uk", "--shelf-life", "500")
        self.last_day("2028-02-28 09:00:00", "2029-02-28 23:59:59", "--profile", "uk", "--shelf-life", "500")
        self.last_day("2031-02-28 09:00:00", "2032-02-28 23:59:59", "--profile", "uk", "--shelf-life", "500")
        self.last_day("2027-12-31 21:00:00", "2028-01-01 23:59:59", "--shelf-life", "1")

    def test_summer_time_begins_and_ends(self):
        """Both changes, north and south, and where midnight itself is skipped; the use-by day begins or ends there."""
        for zone, started, last in (
                ("America/New_York", "2027-03-13 15:00:00", "2027-03-15 03:59:59"),   # 23 hours long
                ("America/New_York", "2027-11-06 15:00:00", "2027-11-08 04:59:59"),   # 25 hours long
                ("Europe/Berlin", "2027-03-27 09:00:00", "2027-03-28 21:59:59"),
                ("Europe/Berlin", "2027-10-30 09:00:00", "2027-10-31 22:59:59"),
                ("Australia/Sydney", "2027-04-02 23:00:00", "2027-04-04 13:59:59"),
                ("Australia/Sydney", "2027-10-01 23:00:00", "2027-10-03 12:59:59"),
                ("Asia/Beirut", "2027-03-27 09:00:00", "2027-03-28 20:59:59"),        # begins at 01:00
                ("America/Santiago", "2027-09-04 15:00:00", "2027-09-06 02:59:59")):  # likewise, in the south
            with self.subTest(zone=zone, started=started):
                self.last_day(started, last, "--shelf-life", "1", "--zone", zone)

    def test_the_hour_that_comes_twice_is_not_a_clock_set_back(self):
        place = self.office_at("2027-11-07 04:30:00", "--zone", "America/New_York")
        package = self.package_of(place)  # released at 01:30, summer time
        self.see(place, package, "2027-11-07 06:00:00")  # 01:00 again
        place.at = "2027-11-07 06:05:00"
        self.check_in_order_again(place)

    def test_the_day_is_the_offices_wherever_the_machine_stands(self):
        place = self.office_at("2027-06-01 13:00:00", "--shelf-life", "30", "--zone", "America/New_York")
        package = self.package_of(place)
        last = datetime.datetime(2027, 7, 2, 3, 59, 59, tzinfo=datetime.timezone.utc)
        for instant, reasons in ((last, []), (last + datetime.timedelta(seconds=1), ["past-use-by"])):
            for machine in ("Pacific/Auckland", "America/New_York", "Asia/Kathmandu", "UTC"):
                here = instant.astimezone(zoneinfo.ZoneInfo(machine))  # as libfaketime reads it
                self.assertEqual(self.reasons(place, package, at=here.strftime("%Y-%m-%d %H:%M:%S"),
                                              env={"TZ": machine}), reasons, machine)

    def test_a_zone_that_the_database_does_not_know_holds_and_tells(self):
        place = self.office_at("2027-03-09 09:00:00")
        package = self.package_of(place)
        with sqlite3.connect(place.folder / "record.db") as record:
            record.execute("UPDATE office SET zone = 'Nowhere/Nothing'")
        reply = place.run("check", "--id", package)
        self.assertEqual(reply.status, 10)
        self.assertEqual(office.codes(reply.lines[0]), ["record-unreachable"])
        self.check_failure(place.run("load", "show", "S1-1"), "zone-unknown", 1)

    # ---- two stations, and one that serves

    def test_two_stations_within_the_tolerance_and_beyond_it(self):
        place = self.office_at("2027-03-09 09:00:00")
        package, now = self.package_of(place), place.at
        for apart, reasons in ((14, []), (15, []), (16, ["clock-behind-record"])):
            now = shifted(now, hours=1)
            self.see(place, package, shifted(now, minutes=apart))
            self.see(place, package, now, *reasons)
        self.see(place, package, shifted(now, minutes=2))  # the others' time has come, by and by

    def test_the_other_stations_midnight_counts(self):
        place = self.office_at("2027-03-09 09:00:00")
        package = self.package_of(place)
        self.see(place, package, "2027-09-05 23:55:00")
        self.see(place, package, "2027-09-06 00:04:00", "past-use-by")
        self.see(place, package, "2027-09-05 23:56:00", "past-use-by")

    def served(self, place):
        """The station under a clock of its own, which `turn` sets while it runs."""
        clock = self.folder / "clock"
        clock.write_text(place.at + "\n")
        env = {"FAKETIME_TIMESTAMP_FILE": str(clock), "FAKETIME_NO_CACHE": "1"}
        old = office.surroundings

        def with_file(at=None, **more):
            turned = old(at, **more)
            turned.pop("FAKETIME", None)
            return turned | env

        office.surroundings = with_file
        try:
            serving = station.Station(place.folder, at=place.at)
        finally:
            office.surroundings = old
        self.addCleanup(serving.stop)

        def turn(at):
            clock.write_text(at + "\n")

        return serving, turn

    def answer(self, browser, package):
        card = browser.send("/check", "/check/text", {"text": package}).json["cards"][0]
        return card["outcome"], card["reasons"].split()

    def test_the_clock_of_a_station_is_turned_while_it_serves(self):
        place = self.office_at("2027-03-09 09:00:00")
        pin = place.ok("operator", "pin", "MB", operator="MB")[0]["pin"]
        package, now = self.package_of(place), place.at
        serving, turn = self.served(place)
        browser = serving.browser()
        browser.sign_in("MB", pin)
        self.assertEqual(self.answer(browser, package), ("clear", []))
        turn("2028-03-09 09:00:00")
        self.assertEqual(self.answer(browser, package), ("do-not-use", ["past-use-by"]))
        turn(now)
        self.assertEqual(self.answer(browser, package), ("hold", ["clock-behind-record"]))
        self.assertIn("/set-up/clock", browser.page("/"))
        self.assertIn("/set-up/clock", browser.page("/set-up"))
        fresh = serving.browser()
        fresh.sign_in("MB", pin)  # also while it is behind
        answer = fresh.send("/set-up/clock", "/set-up/clock", {"why": ""})
        self.assertEqual((answer.status, answer.json["error"]), (400, "reason-missing"))
        answer = fresh.send("/set-up/clock", "/set-up/clock", {"why": WHY[1]})
        self.assertEqual(answer.status, 200, answer.text)
        self.assertEqual(self.answer(browser, package), ("clear", []))
        self.assertNotIn('action="/set-up/clock"', fresh.page("/set-up/clock"))
        turn("1970-01-01 00:01:00")
        self.assertEqual(self.answer(browser, package), ("hold", ["clock-behind-record"]))
        self.assertNotIn('action="/set-up/clock"', fresh.page("/set-up/clock"))
        turn(shifted(now, minutes=1))
        self.assertEqual(self.answer(browser, package), ("clear", []))

    def test_wrong_pins_of_a_day_that_never_was_keep_nobody_out(self):
        place = self.office_at("2027-03-09 09:00:00")
        pin = place.ok("operator", "pin", "MB", operator="MB")[0]["pin"]
        place.at = "2100-01-01 09:00:00"
        serving, turn = self.served(place)
        browser = serving.browser()
        for _ in range(4):
            browser.send("/sign-in", "/sign-in", {"operator": "MB", "pin": "no such pin 1"})
        turn("2027-03-09 10:00:00")
        browser.send("/sign-in", "/sign-in", {"operator": "MB", "pin": pin})
        turn("2027-03-09 10:01:00")
        browser.sign_in("MB", pin)

    def test_a_station_whose_clock_lies_behind_the_others(self):
        """Served beside commands of another machine: beyond the tolerance it holds, and says where to turn."""
        place = self.office_at("2027-03-09 09:00:00")
        pin = place.ok("operator", "pin", "MB", operator="MB")[0]["pin"]
        package, now = self.package_of(place), place.at
        serving, turn = self.served(place)
        browser = serving.browser()
        browser.sign_in("MB", pin)
        place.at = shifted(now, minutes=14)
        self.assertEqual(self.reasons(place, package), [])
        self.assertEqual(self.answer(browser, package), ("clear", []))
        place.at = shifted(now, minutes=40)
        self.assertEqual(self.reasons(place, package), [])
        self.assertEqual(self.answer(browser, package), ("hold", ["clock-behind-record"]))
        turn(place.at)
        self.assertEqual(self.answer(browser, package), ("clear", []))


if __name__ == "__main__":
    office.main()
