import assert from 'node:assert/strict';
import type { Takeoff } from '../../../../shared/analysis.ts';
import { compare } from '../../../../src/engine/compare/index.ts';
import type { AnalysedFlight } from '../../../../src/engine/compare/flight.ts';
import type { Change, ComparisonResult, Footing, MetricResult } from '../../../../src/engine/compare/result.ts';
import type { Conditions, Question, Spec } from '../../../../src/engine/spec/types.ts';
import { campaignInMemory, type CampaignOptions, type InMemoryCampaign } from '../../../tools/campaign-in-memory.ts';

const ordinary: CampaignOptions = { days: [6, 6], runsADay: [1, 2], change: 0, weather: 'fair' };

function metricOf(result: ComparisonResult, conditions: Footing, metric = 'ground-roll'): MetricResult {
  const found = result.metrics.find((one) => one.metric === metric && one.conditions === conditions);
  assert.ok(found, `${metric} ${conditions}`);
  return found;
}

function changeOf(result: ComparisonResult, conditions: Footing = 'equal-weight', metric = 'ground-roll'): Change {
  const [change] = metricOf(result, conditions, metric).changes;
  assert.ok(change);
  return change;
}

function withSpec(campaign: InMemoryCampaign, spec: Partial<Spec>): InMemoryCampaign {
  return { ...campaign, spec: { ...campaign.spec, ...spec } };
}

/** The campaign with some flights' conditions or take-off altered. */
function altered(
  campaign: InMemoryCampaign,
  which: (flight: AnalysedFlight, index: number) => boolean,
  alter: { readonly conditions?: Partial<Conditions>; readonly takeoff?: (takeoff: Takeoff) => Takeoff },
): InMemoryCampaign {
  const flights = campaign.flights.map((flight, index): AnalysedFlight => {
    if (!which(flight, index)) return flight;
    const { analysis, entry } = flight;
    assert.ok(analysis);
    return {
      ...flight,
      entry: { ...entry, conditions: { ...entry.conditions, ...alter.conditions } },
      analysis: { ...analysis, takeoffs: analysis.takeoffs.map((takeoff) => alter.takeoff?.(takeoff) ?? takeoff) },
    };
  });
  return { ...campaign, flights };
}

const run = ({ spec, flights }: InMemoryCampaign): ComparisonResult => compare(spec, flights);
const ask = (...questions: readonly Question[]): Partial<Spec> => ({
  questions: { ask: questions, at: ['equal-weight'] },
});

describe('compare', () => {
  it('finds a large change, says so in words, and keeps every correction beside the raw value', () => {
    const result = run(campaignInMemory(11, { ...ordinary, days: [8, 8], change: -0.25, liftoffSigmaS: 0.1 }));
    const change = changeOf(result);
    assert.equal(change.verdict, 'shorter');
    assert.ok(change.percent && change.percent.high < 0 && change.percent.low < -25 && change.percent.high > -25);
    assert.match(
      change.sentence,
      /^Ground roll at equal weight: \d+(?:\.\d)? % shorter with "after" than with "before" \(95 % interval/,
    );
    const metric = metricOf(result, 'equal-weight');
    assert.equal(metric.smallerIsBetter, true);
    assert.match(metric.at, /no wind, a level runway and a weight of 790 kg/);
    for (const configuration of metric.configurations) {
      assert.equal(configuration.days, 8);
      for (const value of configuration.values) {
        assert.deepEqual(
          value.corrections.map(({ name }) => name),
          ['wind', 'slope', 'weight', 'density'],
        );
        const product = value.corrections.reduce((sum, { factor }) => sum * (factor ?? 1), 1);
        assert.ok(Math.abs(value.value / (value.raw.value * product) - 1) < 1e-6, 'raw x factors = value');
        assert.ok(value.sigma > 0 && value.weight >= 0 && value.weight <= 1);
      }
      assert.equal(Math.max(...configuration.values.map(({ weight }) => weight)), 1);
    }
  });

  it('weather that fakes a change of a quarter and more gives no verdict', () => {
    const naive: number[] = [];
    let alarms = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const change = changeOf(run(campaignInMemory(seed, { ...ordinary, weather: 'faking' })));
      naive.push(Math.abs(change.naivePercent ?? 0));
      if (change.verdict !== 'no difference shown') alarms++;
    }
    assert.ok(naive.reduce((sum, value) => sum + value, 0) / naive.length > 15, 'plain means are far off');
    // With 5 % each, three or more of twelve come up once in fifty times.
    assert.ok(alarms <= 2, `${alarms} alarms of 12`);
  });

  it('as flown is shown and not judged', () => {
    const change = changeOf(run(campaignInMemory(3, { ...ordinary, weather: 'faking' })), 'as-flown');
    assert.equal(change.verdict, 'no difference shown');
    assert.equal(change.percent, undefined);
    assert.equal(change.pValue, undefined);
    assert.ok(Math.abs(change.naivePercent ?? 0) > 5);
    assert.match(change.sentence, /no verdict on the modification/);
  });

  it('the same input gives the same result', () => {
    const campaign = campaignInMemory(5, ordinary);
    assert.deepEqual(run(campaign), run(campaign));
  });

  it('one flying day in a configuration is too few, and it says how many are missing', () => {
    const change = changeOf(run(campaignInMemory(4, { ...ordinary, days: [5, 1] })));
    assert.equal(change.verdict, 'too few flights');
    assert.equal(change.moreDays, 1);
    assert.match(change.sentence, /"after" has one usable flying day/);
    assert.equal(change.percent, undefined);
  });

  it('several take-offs of one day do not count as several days', () => {
    const twoDays = changeOf(run(campaignInMemory(9, { ...ordinary, days: [2, 2], runsADay: [5, 5] })));
    const tenDays = changeOf(run(campaignInMemory(9, { ...ordinary, days: [10, 10], runsADay: [1, 1] })));
    const width = (change: Change): number =>
      (change.percent?.high ?? Number.NaN) - (change.percent?.low ?? Number.NaN);
    assert.ok(width(twoDays) > 1.5 * width(tenDays), `${width(twoDays)} and ${width(tenDays)}`);
  });

  it('a few days say how many more would show a worthwhile change', () => {
    const change = changeOf(run(campaignInMemory(8, { ...ordinary, days: [4, 4], runsADay: [1, 1] })));
    assert.equal(change.verdict, 'no difference shown');
    assert.ok(change.moreDays !== null && change.moreDays > 3, String(change.moreDays));
    assert.match(change.sentence, /more flying days in each configuration would show a change of 10 %/);
    assert.ok((change.detectablePercent ?? 0) > 10);
  });

  it('equivalence only against a stated margin, and then by two one-sided tests', () => {
    const campaign = campaignInMemory(2, { ...ordinary, days: [14, 14], runsADay: [1, 1], liftoffSigmaS: 0.05 });
    const plain = changeOf(run(campaign));
    assert.equal(plain.verdict, 'no difference shown');
    const margin = { value: 0.15, relative: true };
    const asked = changeOf(run(withSpec(campaign, ask({ metric: 'ground-roll', primary: true, margin }))));
    assert.equal(asked.verdict, 'equivalent');
    assert.ok((asked.pEquivalence ?? 1) < 0.05);
    assert.match(asked.sentence, /equivalent within 15 %/);
    const tight = { value: 0.01, relative: true };
    const notShown = changeOf(run(withSpec(campaign, ask({ metric: 'ground-roll', primary: true, margin: tight }))));
    assert.equal(notShown.verdict, 'no difference shown');
  });

  it('equal load charges the added weight, equal weight does not', () => {
    const options = { ...ordinary, days: [7, 7] as const, addedMassKg: 40 };
    const campaign = withSpec(campaignInMemory(6, options), {
      questions: { ask: [{ metric: 'ground-roll', primary: true }], at: ['equal-weight', 'equal-load'] },
    });
    const result = run(campaign);
    const weight = changeOf(result, 'equal-weight').percent?.value ?? Number.NaN;
    const load = changeOf(result, 'equal-load').percent?.value ?? Number.NaN;
    // 40 kg of 790 to the power 2.4: +12.6 %.
    assert.ok(
      Math.abs((1 + load / 100) / (1 + weight / 100) - (830 / 790) ** 2.4) < 0.005,
      'but for slightly other weights',
    );
  });

  it('without an empty weight there is no comparison at equal load, and it says why', () => {
    const campaign = withSpec(campaignInMemory(6, ordinary), {
      configurations: [{ id: 'before' }, { id: 'after' }],
      questions: { ask: [{ metric: 'ground-roll', primary: true }], at: ['equal-load'] },
    });
    const result = run(campaign);
    assert.equal(result.problems[0].code, 'compare-no-equal-load');
    assert.match(result.problems[0].message, /the empty weights of "before" and "after" are not written\.$/);
    assert.ok(result.metrics.every(({ conditions }) => conditions !== 'equal-load'));
  });

  it('three configurations: each against the baseline first, then the other pair', () => {
    const campaign = campaignInMemory(12, { ...ordinary, days: [4, 8] });
    const days = [
      ...new Set(campaign.flights.flatMap(({ day, entry }) => (entry.configuration === 'after' ? [day] : []))),
    ];
    const flights = campaign.flights.map(
      (flight): AnalysedFlight =>
        flight.entry.configuration === 'after' && days.indexOf(flight.day) >= 4
          ? { ...flight, entry: { ...flight.entry, configuration: 'third' } }
          : flight,
    );
    const spec = { ...campaign.spec, configurations: [...campaign.spec.configurations, { id: 'third' }] };
    const { changes, configurations } = metricOf(compare(spec, flights), 'equal-weight');
    assert.deepEqual(
      changes.map(({ from, to }) => [from, to]),
      [
        ['before', 'after'],
        ['before', 'third'],
        ['after', 'third'],
      ],
    );
    assert.deepEqual(
      configurations.map(({ days: count }) => count),
      [4, 4, 4],
    );
    for (const change of changes) assert.ok(change.percent);
  });

  it('both configurations on the same days are compared within the day', () => {
    // The days differ by far more than the runs of a day: seen as pairs, the change is sharp.
    const campaign = campaignInMemory(21, {
      ...ordinary,
      days: [5, 5],
      runsADay: [1, 1],
      change: -0.1,
      liftoffSigmaS: 0.02,
    });
    const before = campaign.flights.filter(({ entry }) => entry.configuration === 'before');
    const flights = before.flatMap((flight, index): AnalysedFlight[] => {
      const scaled = (factor: number, configuration: string): AnalysedFlight => {
        const one = altered({ spec: campaign.spec, flights: [flight] }, () => true, {
          takeoff: (takeoff) => {
            const roll = takeoff.groundRollM;
            assert.ok(roll);
            const times = (1 + 0.25 * (index - 2)) * factor;
            return {
              ...takeoff,
              groundRollM: { ...roll, value: roll.value * times, low: roll.low * times, high: roll.high * times },
            };
          },
        }).flights[0];
        return { ...one, file: `${configuration}-${flight.file}`, entry: { ...one.entry, configuration } };
      };
      return [scaled(1, 'before'), scaled(0.9 * (1 + 0.004 * (index - 2)), 'after')];
    });
    const change = changeOf(compare(campaign.spec, flights));
    assert.equal(change.verdict, 'shorter');
    assert.ok(change.percent && change.percent.high - change.percent.low < 20);
    assert.equal(change.permutationP, undefined);
  });
});

describe('holes in the notes', () => {
  const campaign = campaignInMemory(31, { ...ordinary, days: [5, 5], runsADay: [1, 1] });
  const first = (_: AnalysedFlight, index: number): boolean => index === 0;
  const reasonFor = (result: ComparisonResult): string =>
    result.leftOut.find(({ file }) => file === campaign.flights[0].file)?.reason ?? '';

  it('a missing temperature leaves the run out of what needs it, and nothing is taken for zero', () => {
    const result = run(altered(campaign, first, { conditions: { airTemperatureK: undefined } }));
    assert.match(reasonFor(result), /No air temperature was noted/);
    assert.equal(metricOf(result, 'equal-weight').configurations[0].runs, 4);
    assert.equal(metricOf(result, 'as-flown').configurations[0].runs, 5);
  });

  it('a missing weight leaves it out at equal weight, and in as flown', () => {
    const result = run(altered(campaign, first, { conditions: { takeoffMassKg: undefined } }));
    assert.match(reasonFor(result), /No take-off weight was noted/);
    assert.equal(metricOf(result, 'equal-weight').configurations[0].runs, 4);
    assert.equal(metricOf(result, 'as-flown').configurations[0].runs, 5);
  });

  it('a missing wind is taken from the air in the recording with a wide margin, or leaves the run out', () => {
    const without = run(altered(campaign, first, { conditions: { wind: undefined } }));
    assert.match(reasonFor(without), /No wind was noted/);
    const measured = (value: number): { value: number; low: number; high: number; method: string } => ({
      value,
      low: value - 1,
      high: value + 1,
      method: 'turn',
    });
    const aloft = {
      ...campaign,
      flights: altered(campaign, first, { conditions: { wind: undefined } }).flights.map((flight, index) => {
        const { analysis } = flight;
        if (index !== 0 || analysis === undefined) return flight;
        const startS = analysis.takeoffs[0].rollStart.timeS + 900;
        const wind = {
          startS,
          endS: startS + 60,
          altitudeM: 500,
          fromRad: measured(0.7),
          speedMps: measured(6),
          method: 'turn',
        };
        return { ...flight, analysis: { ...analysis, winds: [wind] } };
      }),
    };
    const values = metricOf(run(aloft), 'equal-weight').configurations[0].values;
    const noted = metricOf(run(campaign), 'equal-weight').configurations[0].values;
    assert.equal(values.length, 5);
    const relative = (value: { readonly sigma: number; readonly value: number }): number => value.sigma / value.value;
    assert.ok(relative(values[0]) > 1.25 * relative(noted[0]), 'wider');
    assert.ok(values[0].weight < 0.8 * noted[0].weight, 'counts less');
  });

  it('a missing altimeter setting only widens', () => {
    const result = run(altered(campaign, first, { conditions: { altimeterSettingPa: undefined } }));
    const values = metricOf(result, 'equal-weight').configurations[0].values;
    assert.equal(values.length, 5);
    const whole = metricOf(run(campaign), 'equal-weight').configurations[0].values;
    assert.ok(values[0].sigma > whole[0].sigma);
  });

  it('a recording that failed and an unknown configuration are told', () => {
    const flights = campaign.flights.map((flight, index): AnalysedFlight => {
      if (index === 0) {
        const problem = { code: 'x', severity: 'error' as const, message: 'It is a photograph.' };
        return { entry: flight.entry, file: flight.file, day: flight.day, problems: [problem] };
      }
      return index === 1 ? { ...flight, entry: { ...flight.entry, configuration: 'between' } } : flight;
    });
    const result = compare(campaign.spec, flights);
    assert.match(reasonFor(result), /photograph/);
    assert.ok(result.leftOut.some(({ reason }) => /"between" is not described/.test(reason)));
  });
});

describe('like with like', () => {
  const campaign = campaignInMemory(41, { ...ordinary, days: [5, 5], runsADay: [2, 2] });

  it('rolling starts of one configuration only are left out; of both, they stay with a shift', () => {
    const rolling = (takeoff: Takeoff): Takeoff => ({ ...takeoff, rollingStart: true, startSpeedMps: 3.5 });
    const one = run(altered(campaign, (_, index) => index === 0, { takeoff: rolling }));
    assert.match(one.leftOut[0].reason, /Start: rolling start, which was not flown in "after"/);
    assert.equal(metricOf(one, 'equal-weight').configurations[0].runs, 9);
    const both = run(
      altered(campaign, ({ file }, index) => index === 0 || file === campaign.flights[12].file, { takeoff: rolling }),
    );
    assert.deepEqual(both.leftOut, []);
    assert.ok(changeOf(both).warnings.some((warning) => /rolling start/.test(warning)));
  });

  it('paved and grass are never pooled', () => {
    const paved = {
      ...campaign.flights[0].entry.conditions.runway,
      surface: { kind: 'paved' as const, wet: false, soft: false, long: false },
    };
    const result = run(altered(campaign, (_, index) => index < 2, { conditions: { runway: paved } }));
    assert.equal(result.leftOut.length, 2);
    assert.match(result.leftOut[0].reason, /surface \(paved\)/);
    assert.equal(metricOf(result, 'equal-weight').configurations[0].runs, 8);
  });

  it('a touch-and-go and a rejected take-off are not take-offs from brake release', () => {
    const result = run(
      altered(campaign, (_, index) => index < 2, {
        takeoff: (takeoff) => ({
          ...takeoff,
          outcome: takeoff === campaign.flights[0].analysis?.takeoffs[0] ? 'touch-and-go' : 'rejected',
        }),
      }),
    );
    assert.equal(metricOf(result, 'as-flown').configurations[0].runs, 8);
    assert.ok(result.leftOut.some(({ reason }) => /touch-and-go/.test(reason)));
  });

  it('an outlier is pointed out, counted, and what it does is told', () => {
    const result = run(
      altered(campaign, (_, index) => index === 3, {
        takeoff: (takeoff) => {
          const roll = takeoff.groundRollM;
          assert.ok(roll);
          return {
            ...takeoff,
            groundRollM: { ...roll, value: roll.value * 3, low: roll.low * 3, high: roll.high * 3 },
          };
        },
      }),
    );
    const { configurations, changes } = metricOf(result, 'equal-weight');
    const odd = configurations[0].values.filter(({ outlier }) => outlier !== undefined);
    assert.equal(odd.length, 1);
    assert.match(odd[0].outlier ?? '', /longer than the others .* It counts all the same/);
    assert.equal(configurations[0].runs, 10);
    assert.ok(changes[0].warnings.some((warning) => /Without the runs that stand out/.test(warning)));
  });

  it('a take-off that two recorders saw, and a recording listed twice, count once', () => {
    const [flight, ...rest] = campaign.flights;
    const [worse] = altered({ ...campaign, flights: [flight] }, () => true, {
      takeoff: (takeoff) => {
        const roll = takeoff.groundRollM;
        assert.ok(roll);
        const rollStart = { ...takeoff.rollStart, timeS: takeoff.rollStart.timeS + 3 };
        return { ...takeoff, rollStart, groundRollM: { ...roll, low: roll.low - 20, high: roll.high + 20 } };
      },
    }).flights;
    const second = { ...worse, file: 'second-recorder.igc' };
    const copy = { ...rest[0], file: 'copy.gpx', contentHash: 'abc' };
    const result = compare(campaign.spec, [flight, { ...rest[0], contentHash: 'abc' }, ...rest.slice(1), second, copy]);
    assert.equal(metricOf(result, 'equal-weight').configurations[0].runs, 10);
    const reasons = result.leftOut.map(({ file, reason }) => `${file}: ${reason}`).sort();
    assert.equal(reasons.length, 2, reasons.join('\n'));
    assert.match(reasons[0], /^copy.gpx: The same recording as/);
    assert.match(reasons[1], /^second-recorder.igc: The same event as .* measured it better/);
  });

  it("the pilot's exclusions are honoured with their reasons; one that takes nothing out is questioned", () => {
    const [a, b] = [campaign.flights[0].file, campaign.flights[2].file];
    const result = run(
      withSpec(campaign, {
        exclusions: [
          { track: a, because: 'door open' },
          { track: b, metric: 'ground-roll', number: 1, because: 'flaps forgotten' },
          { track: 'nothing.gpx', because: 'a slip' },
        ],
      }),
    );
    assert.deepEqual(
      result.leftOut.map(({ by, reason }) => [by, reason]),
      [
        ['pilot', 'door open'],
        ['pilot', 'flaps forgotten'],
      ],
    );
    assert.equal(result.problems.filter(({ code }) => code === 'compare-exclusion-unused').length, 1);
  });
});

describe('several questions', () => {
  it('the primary one is tested as if alone, the others share; no interval contradicts its verdict', () => {
    for (let seed = 50; seed < 54; seed++) {
      const campaign = withSpec(
        campaignInMemory(seed, { ...ordinary, days: [6, 6], change: -0.14 }),
        ask(
          { metric: 'liftoff-speed', primary: true },
          { metric: 'ground-roll', primary: false },
          { metric: 'time-to-liftoff', primary: false },
        ),
      );
      const result = run(campaign);
      const primary = changeOf(result, 'equal-weight', 'liftoff-speed');
      assert.equal(primary.confidence, 0.95);
      assert.equal(primary.pValue, primary.pValueAdjusted);
      for (const metric of ['liftoff-speed', 'ground-roll', 'time-to-liftoff']) {
        const change = changeOf(result, 'equal-weight', metric);
        assert.ok(change.percent && change.confidence && change.percentAlone);
        const excludesZero = change.percent.low > 0 || change.percent.high < 0;
        assert.equal(excludesZero, change.verdict !== 'no difference shown', `${seed} ${metric}`);
        assert.ok(change.confidence >= 0.95 && (change.pValueAdjusted ?? 0) >= (change.pValue ?? 1));
        assert.ok(
          change.percentAlone.high - change.percentAlone.low <= change.percent.high - change.percent.low + 1e-9,
        );
      }
    }
  });

  it('an unknown metric is an error with its place, and does not sink the rest', () => {
    const at = { file: 'x.modproof.yaml', line: 7 };
    const campaign = withSpec(
      campaignInMemory(1, ordinary),
      ask({ metric: 'happiness', primary: true, at }, { metric: 'ground-roll', primary: false }),
    );
    const result = run(campaign);
    assert.deepEqual(
      result.problems.map(({ code, at: place }) => [code, place?.line]),
      [['compare-unknown-metric', 7]],
    );
    assert.ok(changeOf(result));
  });

  it('empty weights are compared by their weighings', () => {
    const campaign = withSpec(campaignInMemory(1, ordinary), {
      ...ask({ metric: 'empty-weight', primary: false }),
      configurations: [
        { id: 'before', emptyMassKg: { value: 528, sigma: 1, sigmaStated: true } },
        { id: 'after', emptyMassKg: { value: 540, sigma: 1, sigmaStated: true } },
      ],
    });
    const change = changeOf(run(campaign), 'as-flown', 'empty-weight');
    assert.equal(change.verdict, 'higher');
    assert.equal(
      change.sentence,
      'Empty weight: 12.0 kg higher with "after" than with "before" (95 % interval 9.2 to 14.8 kg higher).',
    );
  });
});
