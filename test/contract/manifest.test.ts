import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

interface Manifest {
  readonly engines: { readonly vscode: string };
  readonly devDependencies: Readonly<Record<string, string>>;
  readonly capabilities: {
    readonly virtualWorkspaces: unknown;
    readonly untrustedWorkspaces: { readonly supported: unknown };
  };
  readonly contributes: {
    readonly commands: readonly { readonly command: string; readonly title: string; readonly category: string }[];
    readonly menus: Readonly<Record<string, readonly { readonly command: string; readonly when?: string }[]>>;
    readonly configuration: { readonly properties: Readonly<Record<string, unknown>> };
    readonly customEditors: readonly { readonly viewType: string; readonly priority: string }[];
  };
}

const text = readFileSync('package.json', 'utf8');
const manifest = JSON.parse(text) as Manifest;
const names = JSON.parse(readFileSync('package.nls.json', 'utf8')) as Record<string, string>;

function sourceText(folder: string): string {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
    .join('\n');
}

describe('the manifest', () => {
  const { commands, menus, customEditors } = manifest.contributes;
  const source = sourceText('src/vscode');

  it('has a text for every name it uses, and uses every text', () => {
    const used = new Set([...text.matchAll(/"%([\w.-]+)%"/g)].map((match) => match[1]));
    assert.deepEqual([...used].filter((key) => names[key] === undefined).sort(), []);
    assert.deepEqual(
      Object.keys(names)
        .filter((key) => !used.has(key))
        .sort(),
      [],
    );
  });

  it('has its commands under one category, each registered, each once', () => {
    assert.deepEqual([...new Set(commands.map(({ category }) => category))], ['Modproof']);
    assert.equal(new Set(commands.map(({ command }) => command)).size, commands.length);
    for (const { command } of commands) {
      assert.ok(source.includes(`'${command}'`), `${command} is not in the source`);
    }
  });

  it('puts only commands that exist into menus, and under a condition everywhere', () => {
    const known = new Set(commands.map(({ command }) => command));
    for (const [menu, entries] of Object.entries(menus)) {
      for (const { command, when } of entries) {
        assert.ok(known.has(command), `${menu}: ${command}`);
        assert.ok(when !== undefined && when !== '', `${menu}: ${command} has no condition`);
      }
    }
  });

  it('has every command of the palette and every setting in the README', () => {
    const readme = readFileSync('README.md', 'utf8');
    const hidden = new Set(menus.commandPalette.filter(({ when }) => when === 'false').map(({ command }) => command));
    const titles = commands
      .filter(({ command }) => !hidden.has(command))
      .map(({ title }) => names[title.replace(/^%(.*)%$/, '$1')].replace(/\.\.\.$/, ''));
    assert.deepEqual(
      titles.filter((title) => !readme.includes(`**${title}**`)),
      [],
    );
    const settings = Object.keys(manifest.contributes.configuration.properties);
    assert.deepEqual(
      settings.filter((setting) => !readme.includes(`\`${setting}\``)),
      [],
    );
  });

  it('declares the editors that the source registers', () => {
    for (const { viewType } of customEditors) assert.ok(source.includes(`'${viewType}'`), viewType);
    assert.deepEqual(
      customEditors.map(({ priority }) => priority),
      ['default', 'option'],
    );
  });

  it('runs in virtual and restricted workspaces, and on the version of VS Code whose types it is written to', () => {
    assert.equal(manifest.capabilities.virtualWorkspaces, true);
    assert.ok(manifest.capabilities.untrustedWorkspaces.supported);
    assert.equal(manifest.engines.vscode, `^${manifest.devDependencies['@types/vscode']}`);
  });
});
