// A station served on a demo office of its own, and the program beside it as a command.
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

const program = process.env.LOADLIGHT;
if (!program) throw new Error('LOADLIGHT must name the program');

const surroundings = { PATH: process.env.PATH, HOME: '/nonexistent', LC_ALL: 'C.UTF-8', TZ: 'UTC' };
for (const [name, value] of Object.entries(process.env)) {
  if (/^(ASAN|UBSAN|LSAN)_/.test(name)) surroundings[name] = value;
}

export class DemoStation {
  constructor() {
    this.folder = mkdtempSync(join(tmpdir(), 'loadlight-browser-'));
    this.office = join(this.folder, 'office');
    const made = this.run('init', '--demo');
    this.cases = Object.fromEntries(made.map((line) => [line.case, line]));
    this.lead = this.run('operator', 'list').find((row) => row.role === 'lead').code;
    this.pin = this.run('--operator', this.lead, 'operator', 'pin', this.lead)[0].pin;
  }

  // The lines of a command that must succeed.
  run(...words) {
    const done = spawnSync(program, ['--office', this.office, ...words, '--json'],
      { env: surroundings, maxBuffer: 64 << 20 });
    if (done.status !== 0) throw new Error(`${words.join(' ')}: exit ${done.status}: ${String(done.stdout).slice(0, 1000)}${done.stderr}`);
    return done.stdout.toString().split('\n').filter(Boolean).map((line) => JSON.parse(line));
  }

  async start(port = 0, ...more) {
    this.process = spawn(program, ['--office', this.office, 'serve', '--port', String(port), ...more, '--json'],
      { env: surroundings, stdio: ['ignore', 'pipe', 'inherit'] });
    const [line] = await once(createInterface({ input: this.process.stdout }), 'line');
    this.url = JSON.parse(line).listening;
    return this;
  }

  get port() { return Number(new URL(this.url).port); }

  async end(signal = 'SIGTERM') {
    if (!this.process || this.process.exitCode !== null || this.process.signalCode !== null) return;
    this.process.kill(signal);
    await once(this.process, 'exit');
  }

  async close() {
    await this.end();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
