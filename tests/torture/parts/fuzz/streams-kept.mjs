// In the place of src/commands/streams.ts: what is said is kept.
export * from '../../../../src/commands/streams.ts';

export const said = { out: '', err: '' };

export function say(text) {
  said.out += text;
}

export function remark(text) {
  said.err += text;
}

export function terminal() {
  return { isTTY: said.isTTY === true, columns: 80 };
}

export function remarksOnTerminal() {
  return said.isTTY === true;
}

export function columns(least, most) {
  return Math.min(most, Math.max(least, 80));
}
