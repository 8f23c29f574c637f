// Clips for the browser's camera: labels' symbols lying on a bench, as YUV4MPEG2 (its header as mjpegtools
// describes it, from memory), which Chromium plays over and over. Symbols are drawn by zint.
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';

const WIDTH = 1280, HEIGHT = 720;
const BENCH = 150, PAPER = 235, INK = 25, LIGHT = 250;
const MODULE = 5;  // pixels
const MARGIN = 30;

// Rows of modules, true for a dark one.
function modulesOf(text) {
  const done = spawnSync('zint', ['--barcode=QRCODE', '--vers=5', '--secure=3', '--dump', `--data=${text}`]);
  if (done.status !== 0) throw new Error(`zint: ${done.stderr}`);
  const rows = done.stdout.toString().trim().split('\n').map((line) => line.replaceAll(' ', ''));
  return rows.map((row) => [...row].flatMap((digit) => [8, 4, 2, 1].map((bit) => (parseInt(digit, 16) & bit) !== 0))
    .slice(0, rows.length));
}

export class Picture {
  constructor() { this.pixels = Buffer.alloc(WIDTH * HEIGHT, BENCH); }

  fill(x, y, width, height, grey) {
    for (let row = y; row < y + height; ++row) this.pixels.fill(grey, row * WIDTH + x, row * WIDTH + x + width);
    return this;
  }

  // A label with this symbol, its paper's corner there.
  label(text, x, y, size = MODULE) {
    const modules = modulesOf(text);
    const side = modules.length * size + 2 * MARGIN;
    this.fill(x, y, side, side, PAPER);
    modules.forEach((row, down) => row.forEach((dark, across) => {
      if (dark) this.fill(x + MARGIN + across * size, y + MARGIN + down * size, size, size, INK);
    }));
    return this;
  }

  // A lamp's reflection.
  glare(x, y, radius) {
    for (let row = -radius; row <= radius; ++row) {
      const half = Math.floor(Math.sqrt(radius * radius - row * row));
      this.fill(x - half, y + row, 2 * half, 1, LIGHT);
    }
    return this;
  }
}

// Each picture is shown for its number of frames, five a second.
export function writeClip(path, shown) {
  const colourless = Buffer.alloc(WIDTH * HEIGHT / 2, 128);
  const parts = [Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F5:1 Ip A1:1 C420\n`)];
  for (const [picture, frames] of shown) {
    for (let i = 0; i < frames; ++i) parts.push(Buffer.from('FRAME\n'), picture.pixels, colourless);
  }
  writeFileSync(path, Buffer.concat(parts));
  return path;
}
