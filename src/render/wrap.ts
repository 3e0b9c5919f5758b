/** Breaks at blanks, so that no line is wider than `width` unless one word is; later lines begin with `indent`. */
export function wrap(text: string, width: number, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  const [, lead = ''] = /^( *)/.exec(text)!;
  for (const word of text.slice(lead.length).split(' ')) {
    if (line && lead.length + line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  return lead + [...lines, line].join(`\n${lead}${indent}`);
}
