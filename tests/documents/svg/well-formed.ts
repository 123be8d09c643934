const NAME = '[A-Za-z][\\w:.-]*';
const ATTRIBUTE = `\\s+${NAME}="(?:[^<&"]|&(?:amp|lt|gt|quot|#39);)*"`;
const TOKEN = new RegExp(`<(/?)(${NAME})((?:${ATTRIBUTE})*)\\s*(/?)>|((?:[^<&>]|&(?:amp|lt|gt|quot|#39);)+)`, 'uy');
/** What XML 1.0 allows, section 2.2. */
const CHARACTERS = /^[\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]*$/u;

export interface Element {
  readonly name: string;
  readonly attributes: string;
  text: string;
}

/**
 * Reads the part of XML that our documents are written in, and nothing more: elements, attributes in double quotes, text.
 *
 * @throws where anything else stands in it, or elements are not closed in their order
 */
export function elementsOf(xml: string): readonly Element[] {
  if (!CHARACTERS.test(xml)) throw new Error('a character that XML cannot hold');
  const [open, all]: [Element[], Element[]] = [[], []];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < xml.length) {
    const at = TOKEN.lastIndex;
    const match = TOKEN.exec(xml);
    if (!match) throw new Error(`no XML at ${at}: ${xml.slice(at, at + 60)}`);
    const [, closes, name = '', attributes = '', empty, text] = match;
    if (text !== undefined) {
      const inside = open.at(-1);
      if (inside) inside.text += text;
      else if (text.trim() !== '') throw new Error(`text outside of all elements: ${text}`);
    } else if (closes) {
      if (open.pop()?.name !== name) throw new Error(`</${name}> at ${at} closes what is not open`);
    } else {
      const element = { name, attributes, text: '' };
      all.push(element);
      if (!empty) open.push(element);
    }
  }
  if (open.length > 0 || all.filter(({ name }) => name === 'svg').length !== 1) throw new Error('no whole document');
  return all;
}
