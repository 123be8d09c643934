import { SaxesParser } from 'saxes';

export interface XmlElement {
  readonly name: string;
  readonly uri: string;
  readonly children: XmlElement[];
  text: string;
}

/** Reads XML with a strict parser of another maker; what is not well-formed throws. */
export function readXml(xml: string): XmlElement {
  const parser = new SaxesParser({ xmlns: true });
  const root: XmlElement = { name: '', uri: '', children: [], text: '' };
  const open = [root];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ local, uri }) => {
    const element = { name: local, uri, children: [], text: '' };
    open.at(-1)?.children.push(element);
    open.push(element);
  });
  parser.on('text', (text) => {
    const last = open.at(-1);
    if (last) last.text += text;
  });
  parser.on('closetag', () => {
    open.pop();
  });
  parser.write(xml).close();
  const [top] = root.children;
  if (!top) throw new Error('there is no element');
  return top;
}

/** All elements of a name, wherever they stand. */
export function allOf(element: XmlElement, name: string): readonly XmlElement[] {
  return [...(element.name === name ? [element] : []), ...element.children.flatMap((one) => allOf(one, name))];
}
