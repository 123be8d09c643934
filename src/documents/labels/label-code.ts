import bwipjs from 'bwip-js/node';

/** The dark squares of a code, row by row. */
export interface CodeSquares {
  readonly across: number;
  readonly dark: readonly boolean[];
}

/** Longer texts give squares too small for a wet label and a phone. Own limit. */
const LONGEST_TEXT = 64;

/** A Data Matrix (ISO/IEC 16022): it holds a label's text in the least room, and mends itself where it is scratched. */
export function labelCode(labelId: string): CodeSquares {
  if (labelId === '' || [...labelId].length > LONGEST_TEXT) {
    throw new RangeError(
      `a label id has 1 to ${LONGEST_TEXT} characters, not ${[...labelId].length} ("${labelId.slice(0, 20)}"): shorten it`,
    );
  }
  // ^ and its like are letters here, not commands of the encoder
  const [code] = bwipjs.raw({ bcid: 'datamatrix', text: labelId, parse: false, parsefnc: false });
  if (!code || !('pixs' in code)) throw new Error(`no code could be made of label id "${labelId}": use plain letters`);
  return { across: code.pixx, dark: code.pixs.map((one) => one === 1) };
}
