/** What systemd does with a unit file, written after systemd.syntax(7) and systemd.service(5), for tests. */

/** The values of a unit file: section, key, values in order. Fails on a line that is none of its kinds. */
export function readUnit(text: string): Record<string, Record<string, string[]>> {
  const sections: Record<string, Record<string, string[]>> = {};
  let section = '';
  // A backslash at the end joins the next line.
  for (const line of text.replaceAll('\\\n', ' ').split('\n')) {
    const head = /^\[(\w+)\]$/.exec(line);
    const [, key, value] = /^(\w+)=([^\n]*)$/.exec(line) ?? [];
    if (head) {
      section = head[1]!;
      sections[section] = {};
    } else if (key !== undefined && section) {
      sections[section]![key] = [...(sections[section]![key] ?? []), value!];
    } else if (line !== '' && !/^[#;]/.test(line)) throw new Error(`no line of a unit: ${line}`);
  }
  return sections;
}

/** The words of ExecStart as the program gets them; fails on a variable, a specifier and an escape that would change. */
export function execArgs(value: string): string[] {
  const words = value.match(/"(?:[^"\\]|\\.)*"|[^\s"\\]+/gu) ?? [];
  if (words.join(' ') !== value) throw new Error(`not words with one blank between: ${value}`);
  return words.map((word, place) => {
    const text = word.startsWith('"') ? word.slice(1, -1).replaceAll(/\\(.)/gu, unescaped) : word;
    const plain = doubled(text, '%');
    return place === 0 ? plain : doubled(plain, '$');
  });
}

function unescaped(_: string, sign: string): string {
  if (sign === '\\' || sign === '"') return sign;
  throw new Error(`an escape: \\${sign}`);
}

function doubled(text: string, sign: string): string {
  const parts = text.split(sign + sign);
  if (parts.some((part) => part.includes(sign))) throw new Error(`a bare ${sign}: ${text}`);
  return parts.join(sign);
}
