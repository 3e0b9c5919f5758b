/**
 * The page as a whole: its head with the policy that lets nothing in from outside, and its parts in order.
 */
import { type Child, documentOf, element, styleElement } from './markup.ts';
import { STYLE, STYLE_SHA256 } from './style.ts';

/** No script, no picture, no font, no frame, no form, nothing over a network; the one style sheet by its hash. */
const POLICY = [
  "default-src 'none'",
  `style-src 'sha256-${STYLE_SHA256}'`,
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

export function pageOf(on: {
  title: string;
  generator: string;
  header: Child;
  main: Child;
  footer: Child;
}): string {
  return documentOf(
    element(
      'html',
      { lang: 'en' },
      element(
        'head',
        {},
        element('meta', { charset: 'utf-8' }),
        element('meta', { 'http-equiv': 'Content-Security-Policy', content: POLICY }),
        element('title', {}, on.title),
        element('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
        element('meta', { name: 'color-scheme', content: 'light dark' }),
        element('meta', { name: 'referrer', content: 'no-referrer' }),
        element('meta', { name: 'generator', content: on.generator }),
        styleElement(STYLE),
      ),
      element(
        'body',
        {},
        element('header', {}, on.header),
        element('main', {}, on.main),
        element('footer', {}, on.footer),
      ),
    ),
  );
}
