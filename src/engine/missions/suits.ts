import type { Answer, MissionAnswer } from './need.ts';

type Answered = MissionAnswer & { readonly predicted: boolean };

/** One configuration or candidate before one need. */
export interface SuitedConfiguration {
  readonly id: string;
  readonly predicted: boolean;
  readonly answer: Answer;
  /** In the unit of the need (m, m, m/s); negative is missing. */
  readonly margin?: number;
}

/** Which configurations do a mission. */
export interface SuitedNeed {
  readonly need: string;
  readonly kind: MissionAnswer['kind'];
  /** In the order of the spec, candidates last. */
  readonly configurations: readonly SuitedConfiguration[];
  /** Those that answer yes, the greatest margin first. An order of margins, which have errors of their own: not a finding that one is better. */
  readonly does: readonly string[];
}

/** Which setting suits which mission, and which suits them all. */
export interface Suitability {
  readonly needs: readonly SuitedNeed[];
  readonly configurations: readonly { readonly id: string; readonly predicted: boolean }[];
  /** Those that answer yes to every need. */
  readonly all: readonly string[];
}

/** The answers, put as a table of needs by configurations. A name that is asked twice of one kind is two needs. */
export function suitabilityOf(missions: readonly Answered[]): Suitability {
  const configurations = [
    ...new Map(missions.map(({ configuration: id, predicted }) => [id, { id, predicted }])).values(),
  ];
  const columns = configurations.map(({ id }) => missions.filter(({ configuration }) => configuration === id));
  const rows = Math.max(0, ...columns.map(({ length }) => length));
  const needs = Array.from({ length: rows }, (_, index): SuitedNeed => {
    const own = columns.flatMap((column) => column[index] ?? []);
    const [first] = own;
    const does = own
      .filter(({ answer }) => answer === 'yes')
      .sort((a, b) => (b.margin ?? 0) - (a.margin ?? 0))
      .map(({ configuration }) => configuration);
    return {
      need: first.need,
      kind: first.kind,
      configurations: own.map(({ configuration, predicted, answer, margin }) => ({
        id: configuration,
        predicted,
        answer,
        ...(margin === undefined ? {} : { margin }),
      })),
      does,
    };
  });
  const all = configurations.filter(({ id }) => needs.length > 0 && needs.every(({ does }) => does.includes(id)));
  return { needs, configurations, all: all.map(({ id }) => id) };
}
