import assert from 'node:assert/strict';
import type { Browser } from 'playwright-core';
import { parseFilmTime } from '../../shared/film-time.ts';
import { formatFilmSpan, formatFilmTime } from '../../shared/format.ts';
import type { EventCorrection, SaveRequest } from '../../shared/protocol.ts';
import { conditionsExample, exampleFlight, filmedFlight, troubledFlight, unreadableFile } from './example-flight.ts';
import { launchChromium, type OpenPage, openPage, type PageOptions } from './open-page.ts';

describe('the viewer page', function () {
  this.timeout(60_000);
  let browser: Browser;
  let opened: OpenPage;

  before(async () => {
    browser = await launchChromium();
  });
  after(() => browser.close());
  afterEach(async () => {
    const { trouble } = opened;
    await opened.context.close();
    assert.deepEqual(trouble, [], 'the page, its policy or the console complained');
  });

  const open = async (options: PageOptions = {}): Promise<OpenPage> => {
    opened = await openPage(browser, { flight: exampleFlight, ...options });
    return opened;
  };
  const shown = async (options: PageOptions = {}): Promise<OpenPage['page']> => {
    const { page } = await open(options);
    await page.waitForSelector('.flight-tab');
    await page.waitForTimeout(150);
    return page;
  };
  const readOut = (page: OpenPage['page'], name: string): Promise<string | null> =>
    page
      .locator('.read-out > div', { has: page.locator('dt', { hasText: new RegExp(`^${name}$`) }) })
      .locator('dd')
      .textContent();

  it('shows what the recording is, three charts with ink on them, and every phase', async () => {
    const page = await shown();
    assert.match(
      (await page.textContent('.page-header')) ?? '',
      /morning\.gpx.*GPX: 2026-.*5 Hz.*2 take-offs and 2 landings/s,
    );
    assert.equal(await page.locator('.flight-tab canvas').count(), 3);
    const tabs = (await page.locator('#tab-flight').boundingBox())!;
    const charts = (await page.locator('#chart-height').boundingBox())!;
    assert.ok(tabs.y + tabs.height < charts.y, 'the tabs are not above what they show');
    const inked = await page.$$eval('.flight-tab canvas', (canvases) =>
      canvases.map((canvas) => {
        const one = canvas as HTMLCanvasElement;
        const { data } = one.getContext('2d')!.getImageData(0, 0, one.width, one.height);
        let count = 0;
        for (let at = 3; at < data.length; at += 4) if (data[at] > 0) count++;
        return count;
      }),
    );
    for (const count of inked) assert.ok(count > 3000, `${count} pixels`);
    assert.equal(
      await page.locator('section[aria-labelledby=phases-title] tbody tr').count(),
      exampleFlight.flight.phases.length,
    );
  });

  it('moves one cursor through charts, read-out and plan with the mouse', async () => {
    const page = await shown();
    const before = await readOut(page, 'Ground speed');
    const box = (await page.locator('#chart-speed').boundingBox())!;
    await page.mouse.move(box.x + box.width * 0.4, box.y + 40);
    await page.waitForTimeout(80);
    assert.notEqual(await readOut(page, 'Ground speed'), before);
    const lines = await page.$$eval('.cursor-line', (all) =>
      all.map((line) => Math.round(line.getBoundingClientRect().left)),
    );
    assert.equal(new Set(lines).size, 1, `cursor lines at ${lines.join(', ')}`);
    assert.ok(Math.abs(lines[0] - (box.x + box.width * 0.4)) <= 2);
  });

  it('moves the cursor by key and says where it is', async () => {
    const page = await shown();
    await page.focus('#chart-height');
    await page.keyboard.press('n');
    await page.waitForTimeout(500);
    assert.match(
      (await page.textContent('.announce-read-out')) ?? '',
      /^Start of roll, \d\d:\d\d:\d\d.* UTC, phase .*ground speed/,
    );
    const at = await readOut(page, 'Time');
    await page.keyboard.press('ArrowRight');
    await page.waitForTimeout(80);
    assert.notEqual(await readOut(page, 'Time'), at);
  });

  it('marks a span by drag, states its figures, zooms to it with Enter and back with 0', async () => {
    const page = await shown();
    const box = (await page.locator('#chart-height').boundingBox())!;
    await page.mouse.move(box.x + box.width * 0.55, box.y + 60);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.62, box.y + 60, { steps: 4 });
    await page.mouse.up();
    await page.waitForTimeout(80);
    const panel = page.locator('section[aria-labelledby=selection-title]');
    assert.match(
      (await panel.textContent()) ?? '',
      /Mean rate of climb.*ft\/min \(.*Mean ground speed.*kt.*teady enough/s,
    );
    const { range: before } = await opened.fake((fake) => fake.state as { range?: number[] });
    assert.equal(before, undefined);
    await page.keyboard.press('Enter');
    await page.waitForTimeout(250);
    const { range, selection } = await opened.fake((fake) => fake.state as { range?: number[]; selection?: number[] });
    assert.ok(range && selection && Math.abs(range[0] - selection[0]) < 0.1 && Math.abs(range[1] - selection[1]) < 0.1);
    await page.keyboard.press('0');
    await page.waitForTimeout(250);
    assert.equal((await opened.fake((fake) => fake.state as { range?: number[] })).range, undefined);
  });

  it('marks a span by Shift and arrow keys', async () => {
    const page = await shown();
    await page.focus('#chart-height');
    for (let i = 0; i < 6; i++) await page.keyboard.press('Shift+ArrowRight');
    await page.waitForTimeout(250);
    const { selection } = await opened.fake((fake) => fake.state as { selection?: number[] });
    assert.ok(selection && selection[1] > selection[0]);
    assert.equal(await page.locator('.span-mark:not([hidden])').count(), 3);
    await page.keyboard.press('Escape');
    await page.waitForTimeout(50);
    assert.equal(await page.locator('.span-mark:not([hidden])').count(), 0);
  });

  it('zooms with Ctrl and the wheel about the pointer, and leaves the plain wheel to the page', async () => {
    const page = await shown({ size: { width: 1200, height: 500 } });
    const box = (await page.locator('#chart-height').boundingBox())!;
    await page.mouse.move(box.x + 300, box.y + 60);
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, -200);
    await page.keyboard.up('Control');
    await page.waitForTimeout(250);
    const { range } = await opened.fake((fake) => fake.state as { range?: number[] });
    assert.ok(range && range[0] > 0);
    await page.mouse.wheel(0, 200);
    await page.waitForTimeout(200);
    assert.ok((await page.evaluate(() => document.scrollingElement!.scrollTop)) > 50);
  });

  it('shows a phase in every chart when it is picked', async () => {
    const page = await shown();
    await page.getByRole('button', { name: 'Take-off roll' }).first().click();
    await page.waitForTimeout(250);
    const { range } = await opened.fake((fake) => fake.state as { range?: number[] });
    const phase = exampleFlight.flight.phases.find(({ kind }) => kind === 'takeoff-roll')!;
    const start = phase.startS - exampleFlight.columns.startS;
    assert.ok(range && range[0] < start && range[0] > start - 6);
    assert.match(
      (await page.getAttribute('#chart-height canvas', 'aria-label')) ?? '',
      /Altitude from \d\d:\d\d:\d\d to/,
    );
  });

  it('draws against distance as well, and says so in the table', async () => {
    const page = await shown();
    await page.selectOption('#axis', 'distance');
    await page.waitForTimeout(150);
    await page.locator('.chart-table summary').first().click();
    await page.waitForTimeout(100);
    assert.match((await page.locator('.chart-table table').first().textContent()) ?? '', /Distance flown.*NM/s);
  });

  it('has a table with the figures of each chart, following the zoom', async () => {
    const page = await shown();
    await page.locator('.chart-table summary').first().click();
    await page.locator('.chart-table table').first().waitFor();
    const table = page.locator('.chart-table table').first();
    assert.equal(await table.locator('tbody tr').count(), 25);
    assert.match((await table.locator('thead').textContent()) ?? '', /Time.*Altitude/);
  });

  it('comes back as it was after its tab was hidden', async () => {
    const page = await shown();
    await page.getByRole('button', { name: 'Cruise' }).first().click();
    await page.focus('#chart-speed');
    await page.keyboard.press('ArrowRight');
    await page.selectOption('#axis', 'distance');
    await page.click('#tab-metrics');
    await page.waitForTimeout(300);
    const before = await opened.fake((fake) => fake.state as Record<string, unknown>);
    await page.reload();
    await page.waitForSelector('.flight-tab', { state: 'attached' });
    await page.waitForTimeout(300);
    const after = await opened.fake((fake) => fake.state as Record<string, unknown>);
    for (const key of ['tab', 'range', 'cursor', 'axis']) assert.deepEqual(after[key], before[key], key);
    assert.equal(await page.locator('#view-metrics').isVisible(), true);
    assert.equal(await page.inputValue('#axis'), 'distance');
  });

  it('does not mind a damaged state', async () => {
    await shown({ state: { tab: 7, range: ['a'], cursor: Number.NaN, selection: [5, 1], run: {}, axis: 'sideways' } });
  });

  it('reads again when the file changed, and keeps the view', async () => {
    const page = await shown();
    await page.getByRole('button', { name: 'Cruise' }).first().click();
    await page.waitForTimeout(250);
    const before = await opened.fake((fake) => fake.state as { range?: number[] });
    await opened.fake((fake) => fake.changed('file'));
    await page.waitForTimeout(400);
    const asked = await opened.fake((fake) => fake.asked.filter(({ method }) => method === 'open').length);
    assert.equal(asked, 2);
    assert.deepEqual((await opened.fake((fake) => fake.state as { range?: number[] })).range, before.range);
  });

  it('shows progress with a way out, and reads again when asked to', async () => {
    const { page } = await open({ delayMs: 60_000 });
    await page.waitForSelector('#cancel-reading');
    await opened.fake((fake) => fake.progress(0.42));
    await page.waitForTimeout(50);
    assert.match((await page.textContent('.reading')) ?? '', /42 %/);
    await page.click('#cancel-reading');
    await page.getByText('Reading was cancelled.').waitFor();
    await opened.fake((fake) => {
      fake.delayMs = 0;
    });
    await page.getByText('Read again').click();
    await page.waitForSelector('.flight-tab');
  });

  it('says why a file cannot be read, and offers the text', async () => {
    const { page } = await open({ flight: unreadableFile });
    await page.getByText('No track point with a time was found.').waitFor();
    await page.click('#open-text');
    await page.getByRole('button', { name: 'line 3' }).click();
    const asked = await opened.fake((fake) => fake.asked.map(({ method, argument }) => ({ method, argument })));
    assert.deepEqual(asked.slice(1), [
      { method: 'openText', argument: {} },
      { method: 'showPlace', argument: { line: 3, column: 1 } },
    ]);
  });

  it('draws the charts before the phases are found, and keeps what was done meanwhile', async () => {
    const none = { phases: [], takeoffs: [], landings: [], climbs: [], levelRuns: [], winds: [] };
    const pending = {
      ...exampleFlight,
      pending: true,
      flight: {
        ...exampleFlight.flight,
        analysis: { ...exampleFlight.flight.analysis, ...none },
        phases: [],
        events: [],
        metrics: [],
      },
    };
    const page = await shown({
      flight: pending,
      analysis: exampleFlight.flight,
      state: { cursor: 300, range: [200, 600] },
    });
    await page.getByRole('button', { name: 'Take-off roll' }).first().waitFor();
    assert.equal(await page.locator('.cursor-line:not([hidden])').count(), 3);
    const { range } = await opened.fake((fake) => fake.state as { range?: number[] });
    assert.deepEqual(range, [200, 600]);
    const asked = await opened.fake((fake) => fake.asked.map(({ method }) => method));
    assert.deepEqual(asked.slice(0, 2), ['open', 'analysis']);
  });

  it('lists problems as text, never as markup, beside what could be read', async () => {
    const page = await shown({ flight: troubledFlight });
    assert.match((await page.textContent('main')) ?? '', /2 problems with this recording; what could be read is shown/);
    await page.getByRole('button', { name: 'Show', exact: true }).click();
    assert.match(
      (await page.textContent('.problems')) ?? '',
      /Error A point has no position\. \(4 times\).*<img src=x/s,
    );
    assert.equal(await page.locator('.problems img').count(), 0);
    assert.match((await page.textContent('#tab-problems')) ?? '', /Problems \(2\)/);
  });

  it('corrects a lift-off by arrow keys and keeps it with its reason', async () => {
    const page = await shown();
    await page.click('#tab-runs');
    await page.locator('#correct-liftoff').click();
    await page.waitForSelector('.event-handle');
    for (let i = 0; i < 7; i++) await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    assert.match((await page.textContent('.correction-now')) ?? '', /\+1\.70 s, \+\d+ m from before/);
    await page.locator('#correction-why').locator('input').fill('film, frame 812');
    await page.click('#keep-correction');
    await page.waitForTimeout(100);
    const [correction] = await opened.fake((fake) =>
      fake.asked.filter(({ method }) => method === 'correctEvent').map(({ argument }) => argument as EventCorrection),
    );
    const found = exampleFlight.flight.analysis.takeoffs[0].liftoff!.timeS;
    assert.equal(correction.change, 'set');
    if (correction.change !== 'set') return;
    assert.equal(correction.override.event, 'liftoff');
    assert.equal(correction.override.number, 1);
    assert.ok(Math.abs(correction.override.timeS - found - 1.7) < 0.011, `${correction.override.timeS - found}`);
    assert.equal(correction.override.sigmaS, 0.3);
    assert.equal(correction.override.why, 'film, frame 812');
    assert.equal(await page.locator('.event-handle').count(), 0);
  });

  it('says where in a film to look, and takes the time of the frame as a correction', async () => {
    const page = await shown({ flight: filmedFlight });
    const { analysis } = filmedFlight.flight;
    const startS = analysis.recording.films![0].startS;
    const liftoff = analysis.takeoffs[0].liftoff!;
    assert.match((await readOut(page, 'In the film')) ?? '', /^\d+:\d\d\.\d$/);
    await page.click('#tab-runs');
    const row = page.locator('section[aria-labelledby=events-title] tr', { hasText: 'Lift-off' });
    const cells = await row.locator('td').allTextContents();
    const into = formatFilmTime(liftoff.timeS - startS);
    assert.equal(cells[2], into);
    const half = 1.96 * liftoff.sigmaS;
    const at = liftoff.timeS - startS;
    assert.equal(cells[3], formatFilmSpan({ fromS: at - half - 0.75, toS: at + half + 0.05 }));

    await page.locator('#correct-liftoff').click();
    await page.waitForSelector('.event-handle');
    const field = page.locator('#correction-film').locator('input');
    assert.equal(await field.inputValue(), into);
    await field.fill('at the trees');
    await page.click('#keep-correction');
    assert.match((await page.textContent('.fault')) ?? '', /as a player shows it: 3:05\.2/);
    await field.fill('99:00');
    assert.match((await page.textContent('.fault')) ?? '', /The film shows this run from \d+:\d\d\.\d to/);
    // The handle goes on from where it was, and the field follows it.
    await page.locator('.event-handle').first().focus();
    await page.keyboard.press('ArrowRight');
    await page.waitForTimeout(80);
    assert.equal(await page.textContent('.fault'), '');
    assert.equal(await field.inputValue(), formatFilmTime(Math.round((liftoff.timeS + 0.1) * 100) / 100 - startS, 2));
    const seen = formatFilmTime(at + 1.3);
    await field.fill(seen);
    assert.match(
      (await page.textContent('.correction-now')) ?? '',
      new RegExp(`\\(film ${seen.replace('.', '\\.')}0\\)`),
    );
    await page.click('#keep-correction');
    await page.waitForTimeout(100);
    const [correction] = await opened.fake((fake) =>
      fake.asked.filter(({ method }) => method === 'correctEvent').map(({ argument }) => argument as EventCorrection),
    );
    assert.equal(correction.change, 'set');
    if (correction.change !== 'set') return;
    const { intoFilmS, timeS } = correction.override;
    assert.equal(intoFilmS, parseFilmTime(seen));
    assert.ok(Math.abs(timeS - startS - (intoFilmS ?? 0)) < 1e-6);
  });

  it('corrects by dragging the handle; a failure stays on the page', async () => {
    const page = await shown();
    await page.click('#tab-runs');
    await page.locator('#correct-liftoff').click();
    const handle = page.locator('.event-handle').first();
    const box = (await handle.boundingBox())!;
    await page.mouse.move(box.x + 8, box.y + 60);
    await page.mouse.down();
    await page.mouse.move(box.x + 58, box.y + 60, { steps: 5 });
    await page.mouse.up();
    assert.match((await page.textContent('.correction-now')) ?? '', /\+\d+\.\d\d s, \+\d+ m/);
    await opened.fake((fake) => {
      fake.failing = 'correctEvent';
    });
    await page.click('#keep-correction');
    await page.getByText('correctEvent failed as the test wanted').waitFor();
    await page.locator('#correction-sigma').locator('input').fill('soon');
    await page.click('#keep-correction');
    assert.match((await page.textContent('.correction .fault')) ?? '', /no quantity/);
  });

  it('marks a correction as the pilot’s and can take it back', async () => {
    const page = await shown({ flight: troubledFlight });
    await page.click('#tab-runs');
    assert.match((await page.locator('tr.by-pilot').textContent()) ?? '', /Lift-off.*pilot/);
    await page.locator('tr.by-pilot vscode-button').click();
    await page.click('#remove-correction');
    await page.waitForTimeout(100);
    assert.deepEqual(
      await opened.fake((fake) =>
        fake.asked.filter(({ method }) => method === 'correctEvent').map(({ argument }) => argument),
      ),
      [{ change: 'remove', event: 'liftoff', number: 1 }],
    );
  });

  it('says at once what typed conditions mean, completes a bare number with its unit, and marks a fault', async () => {
    const page = await shown({ conditions: conditionsExample });
    await page.click('#tab-metrics');
    await page.locator('#condition-temperature').locator('input').fill('21');
    await page.keyboard.press('Tab');
    await page.waitForTimeout(500);
    const asked = await opened.fake((fake) =>
      fake.asked
        .filter(({ method }) => method === 'atConditions')
        .map(({ argument }) => (argument as { conditions: { temperature: string } }).conditions.temperature),
    );
    assert.equal(asked[asked.length - 1], '21 degC');
    const text = (await page.textContent('.conditions-panel')) ?? '';
    assert.match(text, /Density altitude15\d\d ft \(/);
    assert.match(text, /Crosswind2\.7 kt from the left/);
    assert.match(text, /"warm" is no quantity/);
    assert.match(
      (await page.textContent('table.metrics')) ?? '',
      /At reference conditions.*wind \+13\.0 % \*, density -5\.0 %/s,
    );
    assert.match((await page.textContent('.cautions')) ?? '', /^\* The correction for wind is 13 %: more than 10 %/);
    await page.click('#add-to-comparison');
    await page.waitForTimeout(80);
    assert.equal(await opened.fake((fake) => fake.asked[fake.asked.length - 1].method), 'addToComparison');
  });

  it('shows a metric in the charts when it is picked', async () => {
    const page = await shown();
    await page.click('#tab-metrics');
    await page.getByRole('button', { name: 'Ground roll' }).first().click();
    await page.waitForTimeout(250);
    assert.equal(await page.locator('#view-flight').isVisible(), true);
    assert.ok((await opened.fake((fake) => fake.state as { selection?: number[] })).selection);
  });

  it('saves a chart as PNG and SVG and copies its table', async () => {
    const page = await shown();
    const menu = page.locator('.plot-card').first().locator('.menu');
    for (const entry of ['Save as PNG...', 'Save as SVG...', 'Copy table as Markdown']) {
      await menu.locator('.icon-button').click();
      await menu.getByText(entry).click();
      await page.waitForTimeout(400);
    }
    const asked = await opened.fake((fake) =>
      fake.asked
        .filter(({ method }) => method === 'save' || method === 'copyText')
        .map(({ method, argument }) => {
          const { content, suggestedName, text } = argument as SaveRequest & { text: string };
          return {
            method,
            suggestedName,
            text,
            content: typeof content === 'string' ? content : Array.from(content?.slice(0, 8) ?? []),
          };
        }),
    );
    assert.equal(asked[0].suggestedName, 'morning.gpx-height.png');
    assert.deepEqual(asked[0].content, [137, 80, 78, 71, 13, 10, 26, 10], 'a PNG signature');
    const svg = asked[1].content as string;
    assert.match(svg, /^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"[^>]*role="img"/);
    assert.match(svg, /<title>Altitude: morning\.gpx/);
    assert.ok((svg.match(/<text/g) ?? []).length > 8 && !/<script|href|style=/.test(svg));
    assert.match(asked[2].text, /^\| Time \| Altitude \|/);
  });

  it('follows a change of theme', async () => {
    const page = await shown();
    const colour = (): Promise<number[]> =>
      page.$eval('#chart-height canvas', (canvas) => {
        const one = canvas as HTMLCanvasElement;
        const { data } = one.getContext('2d')!.getImageData(0, 0, one.width, one.height);
        for (let at = 0; at < data.length; at += 4)
          if (data[at + 3] === 255) return [data[at], data[at + 1], data[at + 2]];
        return [];
      });
    const before = await colour();
    await page.evaluate(() => {
      document.documentElement.style.setProperty('--vscode-charts-blue', '#00ff00');
      document.documentElement.style.setProperty('--vscode-descriptionForeground', '#00ff00');
      document.documentElement.style.setProperty('--vscode-editorIndentGuide-background1', '#00ff00');
      document.documentElement.style.setProperty('--vscode-editor-foreground', '#00ff00');
    });
    await page.waitForTimeout(200);
    assert.notDeepEqual(await colour(), before);
  });

  it('asks for the overlay and for the text from its header', async () => {
    const page = await shown();
    await page.click('#overlay');
    await page.click('#open-text');
    await page.waitForTimeout(80);
    const asked = await opened.fake((fake) => fake.asked.map(({ method }) => method));
    assert.ok(asked.includes('overlay') && asked.includes('openText'));
  });
});
