/** The echo of a command: labels in one column, what is to be copied in one piece. */
import { describe, expect, it } from 'vitest';
import { type Line, labelled } from '../../src/render/echo.ts';
import { painter } from '../../src/render/paint.ts';

const paint = painter({ choice: 'never', env: {}, stream: { isTTY: false } });

describe('labelled lines', () => {
  it('wrap beside their labels', () => {
    expect(labelled([['logged', 'one two three four']], { paint, width: 24 })).toBe(
      'logged      one two\n            three four',
    );
  });

  it('keep a command beside its label while it has room there', () => {
    expect(labelled([['to undo', 'bathbook undo k3f9x']], { paint, width: 60 })).toBe(
      'to undo     bathbook undo k3f9x',
    );
  });

  it('put a command that is wider below its label, whole', () => {
    const command = 'bathbook undo k3f9x --ledger /srv/shared/bench/records/bathbook.yaml';
    expect(labelled([['to undo', command]], { paint, width: 60 })).toBe(`to undo\n${command}`);
    expect(labelled([['to undo', `${command}, then each one above it`]], { paint, width: 60 })).toBe(
      `to undo\n${command},\nthen each one above it`,
    );
    const both: Line[] = [
      ['to undo', command],
      ['', command],
    ];
    expect(labelled(both, { paint, width: 60 })).toBe(`to undo\n${command}\n${command}`);
  });
});
