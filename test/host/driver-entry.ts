import { readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import * as vscode from 'vscode';
import type { DriverRequest } from './driver.ts';

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
