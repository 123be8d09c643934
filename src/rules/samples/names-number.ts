const WORD = /[\p{L}\p{N}]/u;
const DIGIT = /\d/;

/** Whether a text has a number of a sample in it: also with letters behind it ("W-7D"), and not as a part of "W-71". */
export function namesNumber(text: string, number: string): boolean {
  const [plain, sought] = [text.toLowerCase(), number.trim().toLowerCase()];
  if (sought === '') return false;
  for (let at = plain.indexOf(sought); at >= 0; at = plain.indexOf(sought, at + 1)) {
    const [before, after] = [plain[at - 1] ?? '', plain[at + sought.length] ?? ''];
    const isCut = DIGIT.test(sought.slice(-1)) && DIGIT.test(after);
    if (!WORD.test(before) && !isCut) return true;
  }
  return false;
}
