/**
 * Looks of the figures, for light and dark paper alike: the colours follow `prefers-color-scheme`, and the figure brings its
 * own background, so that it stays readable where a viewer does not. Configurations differ by colour, by symbol and by
 * dashes: any one of them is enough. Colours after Okabe and Ito, "Color universal design" (2008; from memory), darkened
 * for white paper and lightened for black to keep a contrast of 3 to 1.
 */
interface SeriesLook {
  readonly light: string;
  readonly dark: string;
  readonly symbol: SymbolName;
  /** `stroke-dasharray`; undefined is a solid line. */
  readonly dash?: string;
}

export type SymbolName = 'circle' | 'square' | 'triangle' | 'diamond' | 'cross' | 'star';

export const seriesLooks: readonly SeriesLook[] = [
  { light: '#0072b2', dark: '#56b4e9', symbol: 'circle' },
  { light: '#c2500a', dark: '#e69f00', symbol: 'square', dash: '7 4' },
  { light: '#007a59', dark: '#2cc79a', symbol: 'triangle', dash: '2 3' },
  { light: '#a8487c', dark: '#e39cc4', symbol: 'diamond', dash: '10 3 2 3' },
  { light: '#5b5b00', dark: '#f0e442', symbol: 'cross', dash: '4 2' },
  { light: '#444444', dark: '#cccccc', symbol: 'star', dash: '1 4' },
];

export function lookOf(series: number): SeriesLook {
  return seriesLooks[series % seriesLooks.length];
}

interface Paper {
  readonly paper: string;
  readonly ink: string;
  readonly quiet: string;
  readonly grid: string;
}

const lightPaper: Paper = { paper: '#ffffff', ink: '#1f2328', quiet: '#57606a', grid: '#d8dee4' };
const darkPaper: Paper = { paper: '#14171c', ink: '#e6edf3', quiet: '#a3adb8', grid: '#3a424c' };

function rules(shade: 'light' | 'dark', { paper, ink, quiet, grid }: Paper): string {
  return [
    ...seriesLooks.map((look, index) => `.c${index}{color:${look[shade]}}`),
    `.paper{fill:${paper}}`,
    `text{fill:${ink}}`,
    `.quiet{fill:${quiet}}`,
    `.grid{stroke:${grid}}`,
    `.axis{stroke:${quiet}}`,
    `.zero{stroke:${ink}}`,
    `.mark{stroke:${paper}}`,
    `.hollow{fill:${paper}}`,
    `.margin{fill:${quiet}}`,
  ].join('');
}

/** The style sheet of every figure: plain rules without variables, which every renderer of SVG understands. */
export const styleSheet = [
  'svg{font:13px system-ui,"Segoe UI",Roboto,Helvetica,Arial,sans-serif}',
  rules('light', lightPaper),
  '.heading{font-weight:600}',
  '.small{font-size:12px}',
  '.grid,.axis{stroke-width:1}',
  '.zero{stroke-width:1.5}',
  '.mark{fill:currentColor;stroke-width:1}',
  '.hollow{stroke:currentColor;stroke-width:1.8}',
  '.curve,.thin,.whisker,.mean{stroke:currentColor;stroke-linejoin:round}',
  '.curve{stroke-width:1.8}',
  '.thin{stroke-width:1.2;opacity:.75}',
  '.whisker{stroke-width:1.2;opacity:.7}',
  '.mean{stroke-width:2.6}',
  '.band{fill:currentColor;opacity:.16}',
  '.margin{opacity:.14}',
  `@media (prefers-color-scheme:dark){${rules('dark', darkPaper)}}`,
  `@media print{${rules('light', lightPaper)}}`,
].join('');
