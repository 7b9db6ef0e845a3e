import type { Problem } from '../../shared/problem.ts';

/** "file:line:column: severity code: message", as editors and build tools understand it. */
export function problemLine(problem: Problem, file = '-'): string {
  const { at } = problem;
  const place = [at?.file ?? file, at?.line, at?.line === undefined ? undefined : at.column]
    .filter((part) => part !== undefined)
    .join(':');
  const byte = at?.byte === undefined ? '' : ` (at byte ${at.byte})`;
  const count = problem.count !== undefined && problem.count > 1 ? ` (${problem.count} times)` : '';
  return `${place}: ${problem.severity} ${problem.code}: ${problem.message}${byte}${count}`;
}

/** One line a problem; notices only when asked for. */
export function problemLines(problems: readonly Problem[], withNotices: boolean, file?: string): string {
  return problems
    .filter((problem) => withNotices || problem.severity !== 'info')
    .map((problem) => `${problemLine(problem, file)}\n`)
    .join('');
}

/** A problem as it stands in machine-readable output. */
export function problemJson(problem: Problem): Record<string, unknown> {
  const { code, severity, message, at, count } = problem;
  return {
    code,
    severity,
    message,
    ...(at?.file === undefined ? {} : { file: at.file }),
    ...(at?.line === undefined ? {} : { line: at.line }),
    ...(at?.column === undefined ? {} : { column: at.column }),
    ...(at?.byte === undefined ? {} : { byte: at.byte }),
    ...(count === undefined ? {} : { count }),
  };
}
