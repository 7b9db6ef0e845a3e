type Child = Node | string | undefined | false;

interface Options {
  readonly class?: string;
  readonly text?: string;
  /** Attributes; undefined leaves one out. */
  readonly attributes?: Readonly<Record<string, string | undefined>>;
  readonly on?: { readonly [K in keyof HTMLElementEventMap]?: (event: HTMLElementEventMap[K]) => void };
}

function dress<E extends HTMLElement | SVGElement>(made: E, options: Options, children: readonly Child[]): E {
  if (options.class !== undefined) made.setAttribute('class', options.class);
  if (options.text !== undefined) made.textContent = options.text;
  for (const [name, value] of Object.entries(options.attributes ?? {})) {
    if (value !== undefined) made.setAttribute(name, value);
  }
  for (const [name, listener] of Object.entries(options.on ?? {})) {
    made.addEventListener(name, listener as EventListener);
  }
  for (const child of children) {
    if (child !== undefined && child !== false) made.append(child);
  }
  return made;
}

/** Makes an HTML element. Text is only ever set as text, never as markup. */
export function element<K extends keyof HTMLElementTagNameMap>(
  name: K,
  options?: Options,
  ...children: readonly Child[]
): HTMLElementTagNameMap[K];
export function element(name: string, options?: Options, ...children: readonly Child[]): HTMLElement;
export function element(name: string, options: Options = {}, ...children: readonly Child[]): HTMLElement {
  return dress(document.createElement(name), options, children);
}

const svgNamespace = 'http://www.w3.org/2000/svg';

/** Makes an SVG element. */
export function svgElement<K extends keyof SVGElementTagNameMap>(
  name: K,
  options: Options = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[K] {
  return dress(document.createElementNS(svgNamespace, name), options, children);
}

/** Replaces what is in `parent`. */
export function fill(parent: Element, ...children: readonly Child[]): void {
  parent.replaceChildren(...children.filter((child): child is Node | string => child !== undefined && child !== false));
}
