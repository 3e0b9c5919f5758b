import { describe, expect, it } from 'vitest';
import { painter, wantsColour } from '../../src/render/paint.ts';

const terminal = { isTTY: true };
const pipe = {};

describe('who decides about colour', () => {
  it.each([
    ['a terminal', { choice: undefined, env: {}, stream: terminal }, true],
    ['a dumb terminal', { choice: undefined, env: { TERM: 'dumb' }, stream: terminal }, false],
    ['a pipe', { choice: undefined, env: {}, stream: pipe }, false],
    ['--color auto as none', { choice: 'auto', env: {}, stream: terminal }, true],
    // no-color.org: "when present and not an empty string (regardless of its value), prevents the addition of ANSI color"
    ['NO_COLOR on a terminal', { choice: undefined, env: { NO_COLOR: '0' }, stream: terminal }, false],
    ['FORCE_COLOR in a pipe', { choice: undefined, env: { FORCE_COLOR: '1' }, stream: pipe }, true],
    ['--color before the environment', { choice: 'always', env: { NO_COLOR: '1' }, stream: pipe }, true],
    ['--color never on a terminal', { choice: 'never', env: { FORCE_COLOR: '1' }, stream: terminal }, false],
  ])('%s', (_, given, expected) => {
    expect(wantsColour(given)).toBe(expected);
  });

  it('leaves text alone without colour', () => {
    const paint = painter({ choice: 'never', env: {}, stream: terminal });
    for (const word of ['keep', 'soon', 'change', 'stop']) expect(paint.verdict(word)).toBe(word);
    expect(paint.strong('x') + paint.faint('y')).toBe('xy');
  });
});
