import { readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import * as vscode from 'vscode';
import type { ModproofApi } from '../../src/vscode/extension.ts';
import { type DriverRequest, type OpeningTimes, slowestOpeningMs } from './driver.ts';

/** A "test" that does what the file `request.json` in MODPROOF_DRIVER says, again and again, until told to end. */
export async function run(): Promise<void> {
  const folder = process.env.MODPROOF_DRIVER;
  if (folder === undefined) throw new Error('MODPROOF_DRIVER names no folder');
  let done = 0;
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, 40));
    let request: DriverRequest;
    try {
      request = JSON.parse(await readFile(join(folder, 'request.json'), 'utf8')) as DriverRequest;
    } catch {
      continue;
    }
    if (request.number <= done) continue;
    done = request.number;
    if (request.act === 'end') return;
    let reply: { readonly value?: unknown; readonly error?: string };
    try {
      reply = { value: await act(request) };
    } catch (error) {
      reply = { error: String(error) };
    }
    const file = join(folder, `reply-${request.number}.json`);
    await writeFile(`${file}.part`, JSON.stringify(reply));
    await rename(`${file}.part`, file);
  }
}

async function act(request: DriverRequest): Promise<unknown> {
  if (request.act === 'setting') {
    const [section, name] = [
      request.name.slice(0, request.name.indexOf('.')),
      request.name.slice(request.name.indexOf('.') + 1),
    ];
    await vscode.workspace.getConfiguration(section).update(name, request.value, vscode.ConfigurationTarget.Global);
    return undefined;
  }
  if (request.act === 'time-opening') return timeOpening(request.uri, request.viewType);
  if (request.act === 'most-memory') return process.resourceUsage().maxRSS * 1024;
  if (request.act === 'heap') {
    setFlagsFromString('--expose-gc');
    const collect = runInNewContext('gc') as () => void;
    for (let round = 0; round < 3; round++) {
      collect();
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    const { heapUsed, external } = process.memoryUsage();
    return heapUsed + external;
  }
  if (request.act !== 'command') return undefined;
  const revive = (value: unknown): unknown =>
    Array.isArray(value)
      ? value.map(revive)
      : typeof value === 'string' && value.startsWith('file:')
        ? vscode.Uri.parse(value)
        : value;
  const values = request.values.map(revive);
  const result: unknown = await vscode.commands.executeCommand(request.name, ...values);
  return typeof result === 'string' || typeof result === 'number' ? result : undefined;
}

/** How closely the host is watched. */
const sampleMs = 5;

async function timeOpening(text: string, viewType: string): Promise<OpeningTimes> {
  const uri = vscode.Uri.parse(text);
  const extension = vscode.extensions.getExtension<ModproofApi>('modproof.modproof');
  if (extension === undefined) throw new Error('the extension is not here');
  const api = await extension.activate();
  const delays = monitorEventLoopDelay({ resolution: sampleMs });
  delays.enable();
  const began = performance.now();
  const until = (done: () => boolean): Promise<number> =>
    new Promise((resolve, reject) => {
      const look = (): void => {
        if (!done()) return;
        subscription.dispose();
        clearTimeout(late);
        resolve(performance.now() - began);
      };
      const subscription = api.onDidChange(look);
      const late = setTimeout(() => reject(new Error('nothing was drawn')), slowestOpeningMs);
      look();
    });
  const drawn = () => api.shown().find((one) => one.uri.toString() === uri.toString())?.drawn;
  const first = until(() => drawn() !== undefined);
  const complete = until(() => drawn()?.pending === false);
  await vscode.commands.executeCommand('vscode.openWith', uri, viewType);
  const times = { firstChartsMs: await first, completeMs: await complete };
  delays.disable();
  return { ...times, blockedMs: Math.max(0, delays.max / 1e6 - sampleMs) };
}
