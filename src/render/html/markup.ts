/**
 * HTML as values: the one place where text becomes markup. A string is always text and is escaped here; only {@link element} makes
 * tags, of names written in this program.
 */
import { printable } from '../printable.ts';

declare const made: unique symbol;

/** Markup that was made by {@link element}; no string can stand in for it. */
export interface Markup {
  readonly [made]: true;
}

class Made implements Markup {
  declare readonly [made]: true;
  readonly html: string;

  constructor(html: string) {
    this.html = html;
  }
}

export type Child = Markup | string | number | null | readonly Child[];
export type Attributes = Record<string, string | number | boolean | undefined>;

/** Elements that have no end tag. */
const VOID = new Set(['meta', 'link', 'br']);
/** Elements that stand on a line of their own, so that the source can be read. */
const ON_A_LINE = new Set([
  ...[
    'html',
    'head',
    'body',
    'meta',
    'title',
    'style',
    'link',
    'header',
    'main',
    'article',
    'section',
    'footer',
  ],
  ...['h1', 'h2', 'h3', 'h4', 'p', 'dl', 'ul', 'li', 'table', 'tr', 'figure', 'svg', 'details', 'path', 'g'],
]);

/** An element with its attributes and what is in it. Attributes that are undefined or false are left out, true ones have no value. */
export function element(name: string, attributes: Attributes = {}, ...children: Child[]): Markup {
  const start = `<${name}${Object.entries(attributes).map(attribute).join('')}>`;
  const line = ON_A_LINE.has(name) ? '\n' : '';
  return new Made(`${line}${start}${VOID.has(name) ? '' : `${children.map(htmlOf).join('')}</${name}>`}`);
}

/**
 * The style sheet, which is no text: in HTML nothing in it is escaped.
 *
 * @param css - written in this program
 */
export function styleElement(css: string): Markup {
  return new Made(`\n<style>${css}</style>`);
}

/** A whole document. */
export function documentOf(root: Markup): string {
  return `<!doctype html>${htmlOf(root)}\n`;
}

function htmlOf(child: Child): string {
  if (child === null) return '';
  if (child instanceof Made) return child.html;
  if (typeof child === 'object') return (child as readonly Child[]).map(htmlOf).join('');
  return escaped(String(child));
}

function attribute([name, value]: [string, Attributes[string]]): string {
  if (value === undefined || value === false) return '';
  return value === true ? ` ${name}` : ` ${name}="${escaped(String(value))}"`;
}

const SIGNS: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand between tags and between quotes; what would steer the direction of writing is replaced. */
function escaped(text: string): string {
  return printable(text).replaceAll(/[&<>"']/g, (sign) => SIGNS[sign]!);
}
