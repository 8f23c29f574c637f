"""Writes the sample cycle logs: invented runs in saturated steam (IAPWS-IF97 region 4), each with one trait.

    make_cycle_logs.py FOLDER            writes them
    make_cycle_logs.py --check FOLDER    fails unless the folder holds exactly what would be written
"""

import math
import pathlib
import random
import sys

N = [0, 0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
     0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3]
AMBIENT = 101.325
STEAM = None  # a segment whose temperature is that of saturated steam


def steam_celsius(kpa):
    beta = (kpa / 1000) ** 0.25
    e = beta * beta + N[3] * beta + N[6]
    f = N[1] * beta * beta + N[4] * beta + N[7]
    g = N[2] * beta * beta + N[5] * beta + N[8]
    d = 2 * g / (-f - math.sqrt(f * f - 4 * e * g))
    return (N[10] + d - math.sqrt((N[10] + d) ** 2 - 4 * (N[9] + N[10] * d))) / 2 - 273.15


def steam_kpa(celsius):
    low, high = 1.0, 1000.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if steam_celsius(middle) < celsius else (low, middle)
    return low


class Run:
    """Straight segments of pressure; the temperature follows the steam or is led."""

    def __init__(self, name, ambient=AMBIENT):
        self.random = random.Random(name)
        self.ambient = ambient
        self.rows = []  # second, celsius, kPa absolute, once a second
        self.kpa, self.celsius = ambient, 24.0
        self.shift = 0.0  # K between the chamber's temperature and the saturated steam of its pressure

    def go(self, seconds, kpa, celsius=STEAM):
        start_kpa, start_celsius = self.kpa, self.celsius
        for i in range(1, seconds + 1):
            self.kpa = start_kpa + (kpa - start_kpa) * i / seconds
            led = celsius is not STEAM
            self.celsius = start_celsius + (celsius - start_celsius) * i / seconds if led else self.steam()
            self.note()
        return self

    def steam(self):
        return steam_celsius(self.kpa) + self.shift

    def note(self):
        noise = self.random.uniform(-1, 1)
        kpa = self.kpa + 0.4 * self.random.uniform(-1, 1)
        self.rows.append((len(self.rows), self.celsius + 0.06 * noise, max(kpa, 0.8)))

    def hold(self, seconds, celsius):
        """The chamber kept about `celsius`."""
        for i in range(seconds):
            self.celsius = celsius + 0.15 * math.sin(i / 17)
            self.kpa = steam_kpa(self.celsius - self.shift)
            self.note()
        return self

    def pulses(self, count, low=18.0, high=140.0):
        self.go(90, low, 58.0)
        for i in range(count):
            self.go(50, high)
            self.go(60, low)
        return self

    def dry(self, minutes, kpa):
        self.go(150, kpa, 102.0)
        self.go(60 * minutes, kpa, 96.0)
        return self.go(20, self.ambient, 94.0)

    def every(self, step):
        return self.rows[::step]


def gravity(name, celsius, minutes, drying, ambient=AMBIENT):
    run = Run(name, ambient)
    run.go(420, ambient + 4, 99.0).go(500, steam_kpa(celsius)).hold(round(minutes * 60), celsius)
    run.go(240, ambient + 3)
    return run.go(60 * drying + 30, ambient, 84.0)


def prevac(name, celsius, minutes, drying, shift=0.0, dip=False):
    run = Run(name)
    run.pulses(3)
    run.shift = shift
    run.go(240, steam_kpa(celsius - shift)).hold(round(minutes * 30), celsius)
    if dip:
        run.go(12, steam_kpa(celsius - 2.5)).go(14, steam_kpa(celsius))
    run.hold(round(minutes * 30), celsius)
    return run.go(60, AMBIENT + 5, 104.0).dry(drying, 8.0)


def cut_short():
    run = Run("aborted")
    return run.pulses(3).go(120, steam_kpa(118.0)).go(70, AMBIENT + 2).go(120, AMBIENT, 90.0)


def plain(rows):
    return "seconds,celsius,kpa\n" + "".join(f"{t},{c:.2f},{p:.1f}\n" for t, c, p in rows)


def card(rows):
    def line(t, c, p):
        return f"{t // 3600}:{t // 60 % 60:02}:{t % 60:02};{c:.1f};{p / 100:.3f}".replace(".", ",") + "\r\n"
    return ("Gerät;frei erfunden\r\nZyklus;118\r\nZeit;Kammer °C;Druck bar\r\n" + "".join(line(*row) for row in rows))


def altitude(rows):
    head = '"Cycle time","Chamber F","Chamber psig"\n'
    return head + "".join(f"{t // 60}:{t % 60:02},{c * 1.8 + 32:.2f},{(p - 83.5) / 6.894757:.2f}\n" for t, c, p in rows)


def clock_text(second):
    second %= 86400
    return f"{second // 3600:02}:{second // 60 % 60:02}:{second % 60:02}"


def wall(rows, start):
    body = "".join(f"{clock_text(start + t)}|{c:.1f}|{p * 10:.0f}\n" for t, c, p in rows)
    return "* invented sterilizer, late shift\n" + body


def dated(rows, date, start, change_at, change):
    """`change_at` seconds after the start the local clock jumps by `change`."""
    def when(t):
        return f"{date} {clock_text(start + t + (change if t >= change_at else 0))}"
    return "when\tchamber\tpressure\n" + "".join(f"{when(t)}\t{c:.2f}\t{p:.1f}\n" for t, c, p in rows)


def strip(rows):
    head = "INVENTED STERILIZER\nLOAD 0042\nTIME   TEMP    GAUGE\n"
    return head + "".join(f"{t // 60:02}:{t % 60:02}  {c:6.1f}  {p - AMBIENT:6.1f}\n" for t, c, p in rows)


def without(rows, start, end):
    return [row for row in rows if not start < row[0] < end]


def logs():
    """File name to text."""
    hot = 490 + 170  # seconds: somewhat after a prevac run's hold begins
    return {
        "good-gravity-121.csv": plain(gravity("gravity", 122.3, 31.5, 17).every(2)),
        "good-prevac-134.csv": plain(prevac("prevac", 135.1, 3.6, 21).every(2)),
        "short-exposure.csv": plain(prevac("short", 135.1, 2.2, 21).every(2)),
        "temperature-dip.csv": plain(prevac("dip", 135.1, 3.6, 21, dip=True).every(2)),
        "sensor-gap.csv": plain(without(prevac("gap", 135.1, 3.6, 21).every(2), hot + 70, hot + 110)),
        "trapped-air.csv": plain(prevac("air", 135.1, 3.6, 21, shift=-3.8).every(2)),
        "superheat.csv": plain(prevac("dry", 135.2, 3.6, 21, shift=3.4).every(2)),
        "aborted.csv": plain(cut_short().every(2)),
        "wet-load.csv": plain(prevac("wet", 133.2, 4.6, 7).every(2)),
        "decimal-commas.csv": card(prevac("card", 133.2, 4.6, 21).every(1)),
        "altitude-psi.csv": altitude(gravity("altitude", 122.3, 31.5, 17, ambient=83.5).every(5)),
        "over-midnight.log": wall(prevac("night", 133.2, 4.6, 21).every(5), 23 * 3600 + 48 * 60 + 3),
        "clock-put-back.tsv": dated(prevac("autumn", 133.2, 4.9, 21).every(5), "2026-10-25", 2 * 3600 + 48 * 60, 800, -3600),
        "clock-put-on.tsv": dated(prevac("spring", 133.2, 4.9, 21).every(5), "2026-03-29", 3600 + 48 * 60, 720, 3600),
        "one-a-minute.txt": strip(gravity("strip", 122.3, 34, 18).every(60)),
    }


def main(arguments):
    check = arguments[:1] == ["--check"]
    folder = pathlib.Path(arguments[-1])
    wrong = []
    for name, text in logs().items():
        path = folder / name
        if not check:
            path.write_bytes(text.encode("utf-8"))
        elif not path.is_file() or path.read_bytes() != text.encode("utf-8"):
            wrong.append(name)
    if wrong:
        sys.exit("not as this program writes them: " + ", ".join(wrong))


if __name__ == "__main__":
    main(sys.argv[1:])
