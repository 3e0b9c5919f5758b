// Kinds of characters, by their UTF-16 code, as the flow scanner tells them apart.

/** True when a remark holds nothing but blanks, letters and signs. */
export function isPrintable(text: string, from: number, to: number): boolean {
  for (let at = from; at < to; at++) {
    const code = text.charCodeAt(at);
    if (code < 32 || (code > 126 && !isPlainSign(code))) {
      return false;
    }
  }
  return true;
}

/** Letters and signs beyond ASCII, without controls, line separators, byte order marks and what is no character. */
export function isPlainSign(code: number): boolean {
  return code >= 0xa0 && code !== 0x2028 && code !== 0x2029 && code !== 0xfeff && code < 0xfffe;
}

/** What may follow a plain value inside a flow map or list: a comma, a blank or a closing bracket. */
export function isBreak(code: number): boolean {
  return code === 44 || code === 32 || code === 125 || code === 93;
}

/** 0 to 9. */
export function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}
