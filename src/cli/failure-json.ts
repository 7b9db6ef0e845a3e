import type { Problem } from '../../shared/problem.ts';
import { problemJson } from './show-problems.ts';

/** A failure of a whole command as a problem, without the advice for people that stands on further lines. */
export function failureProblem(message: string): Problem {
  return { code: 'failed', severity: 'error', message: message.split('\n')[0] };
}

/**
 * What `--json` prints where a command could do nothing: JSON of the command's own shape, so that a script that reads it
 * need not fear an empty text. The reason stands in `problems` where the shape has them, and on stderr always.
 */
export function failureJson(command: string, problems: readonly Problem[]): string {
  const told = problems.map(problemJson);
  switch (command) {
    case 'check':
      return text(told);
    case 'compare':
      return text({ title: '', metrics: [], leftOut: [], problems: told });
    case 'inspect':
    case 'candidates':
    case 'missions':
      return text([]);
    default:
      return text({ problems: told });
  }
}

function text(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}
