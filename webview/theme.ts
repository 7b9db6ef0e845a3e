/** Colours and type of the editor's theme, read from its CSS variables: a canvas does not understand `var(...)`. */
export interface Theme {
  readonly foreground: string;
  readonly faint: string;
  readonly background: string;
  readonly grid: string;
  readonly accent: string;
  readonly series: Readonly<Record<SeriesColour, string>>;
  readonly fontFamily: string;
  readonly fontSizePx: number;
  readonly highContrast: boolean;
}

export type SeriesColour = 'blue' | 'orange' | 'green' | 'purple' | 'red' | 'yellow' | 'grey';

/** For pictures that leave the editor: dark on white paper, distinguishable with the usual colour blindnesses by dash too. */
export const paperTheme: Theme = {
  foreground: '#1b1b1b',
  faint: '#5a5a5a',
  background: '#ffffff',
  grid: '#d9d9d9',
  accent: '#0b5cad',
  series: {
    blue: '#0b5cad',
    orange: '#b3530a',
    green: '#1d7a3e',
    purple: '#7a3fa0',
    red: '#b3261e',
    yellow: '#8a6d00',
    grey: '#6a6a6a',
  },
  fontFamily: 'system-ui, sans-serif',
  fontSizePx: 12,
  highContrast: false,
};

export function readTheme(): Theme {
  const style = getComputedStyle(document.documentElement);
  const read = (fallback: string, ...names: string[]): string => {
    for (const name of names) {
      const value = style.getPropertyValue(`--vscode-${name}`).trim();
      if (value !== '') return value;
    }
    return fallback;
  };
  const dark = document.body.classList.contains('vscode-dark');
  const highContrast =
    document.body.classList.contains('vscode-high-contrast') ||
    document.body.classList.contains('vscode-high-contrast-light');
  const foreground = read(dark ? '#cccccc' : '#3b3b3b', 'editor-foreground', 'foreground');
  return {
    foreground,
    faint: highContrast ? foreground : read(foreground, 'descriptionForeground'),
    background: read(dark ? '#1f1f1f' : '#ffffff', 'editor-background'),
    grid: highContrast
      ? `color-mix(in srgb, ${foreground} 35%, transparent)`
      : read('rgba(128,128,128,0.25)', 'editorIndentGuide-background1', 'editorIndentGuide-background', 'charts-lines'),
    accent: read('#0078d4', 'focusBorder'),
    series: {
      blue: read('#1a85ff', 'charts-blue'),
      orange: read('#d18616', 'charts-orange'),
      green: read('#388a34', 'charts-green'),
      purple: read('#652d90', 'charts-purple'),
      red: read('#e51400', 'charts-red'),
      yellow: read('#bf8803', 'charts-yellow'),
      grey: read(foreground, 'descriptionForeground'),
    },
    fontFamily: read('sans-serif', 'font-family'),
    fontSizePx: Math.max(10, Math.round(Number.parseFloat(read('13px', 'font-size')) * 0.85)),
    highContrast,
  };
}

/** Calls when the editor's theme, its colours or its font change. */
export function onThemeChange(listener: () => void, signal: AbortSignal): void {
  const observer = new MutationObserver(listener);
  observer.observe(document.body, { attributes: true, attributeFilter: ['class'] });
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ['style'] });
  signal.addEventListener('abort', () => observer.disconnect(), { once: true });
}
