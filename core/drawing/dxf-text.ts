/**
 * A text as DXF holds it in a file of plain ASCII: the format's own codes for ° ± ⌀ (%%d %%p %%c), which every reader draws
 * whatever its font, and \U+XXXX for other letters outside ASCII. What would be read as such a code is written letter by
 * letter. Source: the format's published reference, control codes in TEXT (from memory).
 * @example dxfText('⌀9 ±0.1') // "%%c9 %%p0.1"
 */
export function dxfText(text: string): string {
  const safe = text
    .replace(/\s+/g, ' ')
    .replace(/\\/g, '\\U+005C')
    .replace(/\^/g, '\\U+005E')
    .replace(/%(?=%)|(?<=%)%/g, '\\U+0025');
  let out = '';
  for (const letter of safe) {
    const code = letter.codePointAt(0)!;
    if (letter === '°') out += '%%d';
    else if (letter === '±') out += '%%p';
    else if (letter === '⌀') out += '%%c';
    else if (code < 0x7f) out += letter;
    // letters past the first plane have no code of four digits: both halves of their UTF-16 pair are written
    else for (let i = 0; i < letter.length; i++) out += `\\U+${hex4(letter.charCodeAt(i))}`;
  }
  return out;
}

const hex4 = (code: number): string => code.toString(16).toUpperCase().padStart(4, '0');
