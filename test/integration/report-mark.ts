/** Begins each line that the suites print, so that the host can tell them from the workbench's own (it is invisible). */
export const reportMark = '\u2063';
