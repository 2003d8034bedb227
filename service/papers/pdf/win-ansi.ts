/** Characters of Windows-1252 above U+00FF, all of which the standard PDF fonts can print. */
const EXTRA = new Set('€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ');

const SUBSTITUTES: Record<string, string> = {
  Ω: 'ohm',
  '\u2126': 'ohm',
  θ: 'theta',
  Δ: 'delta',
  μ: 'µ',
  '≤': '<=',
  '≥': '>=',
  '≈': '~',
  '−': '-',
  '→': '->',
  '←': '<-',
  '″': '"',
  '′': "'",
  '\u2009': ' ',
  '\u202f': ' ',
  '\u2011': '-',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  Đ: 'D',
  ı: 'i',
};

const printable = (char: string): boolean => {
  const code = char.codePointAt(0) ?? 0;
  return (code >= 32 && code < 127) || (code >= 0xa0 && code <= 0xff && code !== 0xad) || EXTRA.has(char);
};

/**
 * Text that the standard PDF fonts can print: other characters give way to a reading of the same meaning, their bare
 * letter, or a question mark; control characters become spaces.
 */
export const winAnsi = (text: string): string => {
  let out = '';
  for (const char of text.normalize('NFC')) {
    const code = char.codePointAt(0) ?? 0;
    if (code < 32 || (code >= 127 && code < 0xa0)) out += ' ';
    else if (code === 0xad || (code >= 0x300 && code < 0x370) || (code >= 0x200b && code <= 0x200f)) continue;
    else if (printable(char)) out += char;
    else {
      const bare = [...char.normalize('NFKD')].filter((part) => printable(part)).join('');
      out += SUBSTITUTES[char] ?? (bare === '' ? '?' : bare);
    }
  }
  return out;
};
