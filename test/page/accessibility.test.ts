import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { conditionsExample, exampleOverlay, troubledFlight, unreadableFile } from './example-flight.ts';
import { launchChromium, type OpenPage, openPage, type PageOptions, themeNames } from './open-page.ts';

const axeScript = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Finding {
  readonly id: string;
  readonly impact: string;
  readonly nodes: { readonly html: string; readonly failureSummary: string }[];
}

async function axe(page: Page): Promise<string[]> {
  await page.evaluate(axeScript);
  const found = await page.evaluate(
    `axe.run(document, { resultTypes: ['violations'] }).then((result) => result.violations)`,
  );
  return (found as Finding[]).flatMap(({ id, impact, nodes }) =>
    nodes.map(
      (node) =>
        `${id} (${impact}): ${node.html.slice(0, 160)} ${node.failureSummary.split('\n').slice(1, 3).join(' ')}`,
    ),
  );
}

describe('accessibility of the pages', function () {
  this.timeout(90_000);
  let browser: Browser;
  let opened: OpenPage;

  before(async () => {
    browser = await launchChromium();
  });
  after(() => browser.close());
  afterEach(() => opened.context.close());

  const open = async (options: PageOptions, ready: string): Promise<Page> => {
    opened = await openPage(browser, options);
    await opened.page.waitForSelector(ready);
    await opened.page.waitForTimeout(250);
    return opened.page;
  };

  for (const theme of themeNames) {
    it(`axe finds nothing in any part of the viewer, ${theme}`, async () => {
      const page = await open({ theme, flight: troubledFlight, conditions: conditionsExample }, '.flight-tab');
      await page.locator('.chart-table summary').first().click();
      assert.deepEqual(await axe(page), [], 'flight');
      await page.click('#tab-runs');
      await page.locator('#correct-liftoff').click();
      await page.waitForTimeout(150);
      assert.deepEqual(await axe(page), [], 'take-off and landing');
      await page.click('#tab-metrics');
      await page.waitForTimeout(150);
      assert.deepEqual(await axe(page), [], 'metrics');
      await page.click('#tab-problems');
      await page.waitForTimeout(150);
      assert.deepEqual(await axe(page), [], 'problems');
    });

    it(`axe finds nothing in the overlay and in the page of an unreadable file, ${theme}`, async () => {
      assert.deepEqual(
        await axe(await open({ theme, kind: 'overlay', overlay: exampleOverlay() }, '.overlay-page')),
        [],
      );
      await opened.context.close();
      assert.deepEqual(await axe(await open({ theme, flight: unreadableFile }, '.message-page')), []);
    });
  }

  it('keeps everything within the width at 200 %, and at the width of a half editor', async () => {
    for (const options of [{ zoom: 2 }, { size: { width: 480, height: 800 } }]) {
      const page = await open({ flight: troubledFlight, conditions: conditionsExample, ...options }, '.flight-tab');
      for (const tab of ['flight', 'runs', 'metrics', 'problems']) {
        await page.click(`#tab-${tab}`);
        await page.waitForTimeout(200);
        const [scroll, client] = await page.evaluate(() => [
          document.documentElement.scrollWidth,
          document.documentElement.clientWidth,
        ]);
        assert.ok(scroll <= client + 1, `${tab}: ${scroll} > ${client}`);
      }
      await opened.context.close();
    }
  });

  it('reaches every control by Tab alone, in the order of the page', async () => {
    const page = await open({ flight: troubledFlight }, '.flight-tab');
    const reached: string[] = [];
    for (let i = 0; i < 40; i++) {
      await page.keyboard.press('Tab');
      reached.push(
        await page.evaluate(() => {
          const focused = document.activeElement;
          return focused?.id || focused?.className || focused?.tagName || '';
        }),
      );
    }
    for (const id of [
      'overlay',
      'open-text',
      'tab-flight',
      'axis',
      'chart-height',
      'chart-speed',
      'chart-vertical-speed',
    ]) {
      assert.ok(reached.includes(id), `${id} not reached: ${reached.join(', ')}`);
    }
    assert.ok(reached.indexOf('chart-height') < reached.indexOf('chart-speed'));
  });

  it('moves nothing by itself where less motion is wanted', async () => {
    const page = await open({ flight: troubledFlight, reducedMotion: true }, '.flight-tab');
    await page.getByRole('button', { name: 'Cruise' }).first().click();
    assert.equal(
      await page.evaluate(() => document.getAnimations().filter(({ playState }) => playState === 'running').length),
      0,
    );
  });
});
