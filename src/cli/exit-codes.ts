/** What the command tells the shell. Documented in `--help` and README.md. */
export const exitCodes = {
  /** Done. */
  ok: 0,
  /** Done as far as could be: the spec, or some recording, has errors, which are told on stderr. */
  problems: 1,
  /** Nothing could be done: no such file, not writable, refused to overwrite. */
  failed: 2,
  /** The command line is wrong. */
  usage: 3,
  /** Interrupted with Ctrl-C. */
  interrupted: 130,
} as const;

export type ExitCode = (typeof exitCodes)[keyof typeof exitCodes];
