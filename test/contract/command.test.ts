import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import { campaignSpec, makeCampaign } from '../synth/index.ts';

/** The command as its users have it: one file, run by Node, on recordings of simulated flights whose figures are known. */

interface Run {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

const campaign = makeCampaign('command', {
  daysBefore: 2,
  daysAfter: 2,
  runsPerDay: 1,
  length: 'short',
  weather: 'still',
  receivers: ['handheld'],
  change: 'fairings',
});
const [first] = campaign.flights;
const spec = `${campaignSpec(campaign)}report: { file: report.md }\n`;

describe('the command as one file', function () {
  this.timeout(120_000);
  const program = resolve('test/out/command/modproof.mjs');
  let folder: string;

  before(async () => {
    await build({
      entryPoints: ['src/cli/main.ts'],
      outfile: program,
      bundle: true,
      platform: 'node',
      format: 'esm',
      target: 'es2022',
      logLevel: 'error',
      mainFields: ['module', 'main'],
      banner: { js: "import { createRequire as r } from 'node:module';const require=r(import.meta.url);" },
    });
    folder = mkdtempSync(join(tmpdir(), 'modproof-command-'));
    for (const { file, bytes } of campaign.flights) writeFileSync(join(folder, file), bytes);
    writeFileSync(join(folder, 'x.modproof.yaml'), spec);
  });
  after(() => rmSync(folder, { recursive: true, force: true }));

  function command(args: readonly string[], environment: Readonly<Record<string, string>> = {}): Promise<Run> {
    return new Promise((done) => {
      const child = spawn(process.execPath, [program, ...args], {
        cwd: folder,
        env: { ...process.env, ...environment },
      });
      let [out, err] = ['', ''];
      child.stdout.on('data', (data: Buffer) => {
        out += data.toString();
      });
      child.stderr.on('data', (data: Buffer) => {
        err += data.toString();
      });
      child.on('close', (code) => done({ code, out, err }));
    });
  }

  it('finds the take-off and the climb that the simulation flew', async () => {
    const { code, out } = await command(['inspect', first.file, '--json']);
    assert.equal(code, 0);
    const [{ recording, takeoffs, climbs }] = JSON.parse(out) as {
      recording: { samples: number; format: string };
      takeoffs: { outcome: string; groundRollM: { low: number; high: number } }[];
      climbs: { rateOfClimbMps: { value: number } }[];
    }[];
    assert.ok(recording.samples > 1000);
    const flown = takeoffs.filter(({ outcome }) => outcome === 'flown');
    assert.equal(flown.length, 1);
    const [{ groundRollM }] = first.truth.takeoffs;
    assert.ok(groundRollM !== undefined);
    const found = flown[0].groundRollM;
    assert.ok(found.low < groundRollM && groundRollM < found.high, String(groundRollM));
    assert.equal(climbs.length, first.truth.climbs.length);
  });

  it('compares, writes a report, and from the cache the same again in any language and time zone', async () => {
    const run = await command(['compare', 'x.modproof.yaml']);
    assert.equal(run.code, 0, run.err);
    assert.match(run.out, /\* Ground roll, at equal weight/);
    const report = readFileSync(join(folder, 'report.md'), 'utf8');
    assert.ok(report.startsWith(`# ${campaign.change.name}\n`));
    assert.ok(readdirSync(join(folder, 'report-figures')).includes('ground-roll.svg'));
    assert.ok(existsSync(join(folder, '.modproof-cache/.gitignore')));
    const kept = readdirSync(join(folder, '.modproof-cache')).length;
    const other = { LANG: 'de_DE.UTF-8', LC_ALL: 'de_DE.UTF-8', TZ: 'Pacific/Auckland' };
    assert.equal((await command(['compare', 'x.modproof.yaml'], other)).code, 0);
    assert.equal(readFileSync(join(folder, 'report.md'), 'utf8'), report);
    assert.equal(readdirSync(join(folder, '.modproof-cache')).length, kept, 'nothing was worked out again');
    assert.equal((await command(['compare', 'x.modproof.yaml', '--no-cache'], other)).code, 0);
    assert.equal(readFileSync(join(folder, 'report.md'), 'utf8'), report);
    const json = JSON.parse((await command(['compare', 'x.modproof.yaml', '--json'])).out) as {
      metrics: { metric: string; conditions: string; changes: { percent: { low: number; high: number } }[] }[];
    };
    const change = (metric: string, conditions: string) =>
      json.metrics.find((found) => found.metric === metric && found.conditions === conditions)?.changes[0].percent;
    for (const metric of ['ground-roll', 'level-speed'] as const) {
      const found = change(metric, 'equal-weight');
      const truth = 100 * campaign.trueChange.equalWeight[metric];
      assert.ok(found !== undefined && found.low < truth && truth < found.high, `${metric}: ${truth}`);
    }
  });

  it('stops at Ctrl-C with code 130 and leaves no part of a report', async () => {
    rmSync(join(folder, '.modproof-cache'), { recursive: true, force: true });
    const before = statSync(join(folder, 'report.md')).mtimeMs;
    const child = spawn(process.execPath, [program, 'compare', 'x.modproof.yaml'], { cwd: folder });
    const ended = new Promise<number | null>((done) => child.on('close', done));
    // The cache appears with the first reading: from then on there is something to interrupt.
    const cache = join(folder, '.modproof-cache');
    while (!existsSync(cache) && child.exitCode === null) await new Promise((wait) => setTimeout(wait, 20));
    child.kill('SIGINT');
    const code = await ended;
    // On a very fast machine it may have been done already.
    assert.ok(code === 130 || code === 0);
    if (code === 130) assert.equal(statSync(join(folder, 'report.md')).mtimeMs, before);
    assert.deepEqual(
      readdirSync(folder).filter((name) => name.endsWith('.tmp')),
      [],
    );
  });

  it('ends quietly when its reader has seen enough', async () => {
    const child = spawn(process.execPath, [program, 'inspect', first.file, '--json'], {
      cwd: folder,
    });
    child.stdout.destroy();
    let err = '';
    child.stderr.on('data', (data: Buffer) => {
      err += data.toString();
    });
    await new Promise((done) => child.on('close', done));
    assert.equal(err, '');
  });
});
