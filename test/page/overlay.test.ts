import assert from 'node:assert/strict';
import type { Browser, Page } from 'playwright-core';
import { exampleOverlay } from './example-flight.ts';
import { launchChromium, type OpenPage, openPage } from './open-page.ts';

describe('the overlay page', function () {
  this.timeout(60_000);
  let browser: Browser;
  let opened: OpenPage;
  let page: Page;

  before(async () => {
    browser = await launchChromium();
  });
  after(() => browser.close());
  beforeEach(async () => {
    opened = await openPage(browser, { kind: 'overlay', overlay: exampleOverlay() });
    page = opened.page;
    await page.waitForSelector('.overlay-page');
    await page.waitForTimeout(200);
  });
  afterEach(async () => {
    await opened.context.close();
    assert.deepEqual(opened.trouble, []);
  });

  it('lists the take-offs with their distances and what was left out', async () => {
    assert.equal(await page.locator('.overlay-list li').count(), 3);
    const table = page.locator('section[aria-labelledby=results-title] table');
    assert.equal(await table.locator('tbody tr').count(), 3);
    assert.match(
      (await table.textContent()) ?? '',
      /Ground roll.*Over 50 ft.*before: morning\.gpx\d+ m \(\d+ to \d+\)/s,
    );
    assert.match((await page.textContent('.problems')) ?? '', /It holds no take-off.*taxi\.gpx/s);
    assert.match((await page.textContent('.overlay-page')) ?? '', /not a verdict/);
  });

  it('hides a run, aligns at lift-off, and remembers both and its files', async () => {
    await page.locator('.overlay-list vscode-checkbox').first().click();
    await page.selectOption('#align', 'liftoff');
    await page.waitForTimeout(300);
    const results = page.locator('section[aria-labelledby=results-title]');
    assert.equal(await results.locator('tbody tr').count(), 2);
    assert.match(
      (await page.getAttribute('.plot-card canvas', 'aria-label')) ?? '',
      /2 take-offs against distance from lift-off/,
    );
    await page.reload();
    await page.waitForSelector('.overlay-page');
    await page.waitForTimeout(200);
    assert.equal(await page.inputValue('#align'), 'liftoff');
    assert.equal(await results.locator('tbody tr').count(), 2);
    const { tracks } = await opened.fake((fake) => fake.state as { tracks?: unknown });
    assert.deepEqual(tracks, exampleOverlay().tracks);
  });

  it('opens a flight of it', async () => {
    await page.getByRole('button', { name: 'Open noon.gpx' }).click();
    await page.waitForTimeout(80);
    const asked = await opened.fake((fake) => fake.asked[fake.asked.length - 1]);
    assert.deepEqual(asked, { method: 'openFlight', argument: { file: 'file:///a/noon.gpx' } });
  });
});
