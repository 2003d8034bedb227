/** A strict little reader of XML without DTD, namespaces aside: throws at the first fault in well-formedness. */
export interface XmlNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: XmlNode[];
  text: string;
}

const ENTITY: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

const plain = (raw: string): string => {
  if (/&(?!(amp|lt|gt|quot|apos|#\d+|#x[0-9a-fA-F]+);)/.test(raw))
    throw new Error(`bare ampersand in ${raw}`);
  return raw.replace(/&(#x?)?([0-9a-zA-Z]+);/g, (_, hash: string | undefined, body: string) =>
    hash === undefined
      ? (ENTITY[body] ?? '')
      : String.fromCodePoint(Number.parseInt(body, hash === '#x' ? 16 : 10)),
  );
};

export const readXml = (source: string): XmlNode => {
  const root: XmlNode = { name: '', attributes: {}, children: [], text: '' };
  const stack = [root];
  const body = source.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\n/, '');
  if (body === source) throw new Error('no XML declaration');
  const token = /<(\/?)([A-Za-z][\w:-]*)((?:\s+[A-Za-z][\w:-]*="[^"<]*")*)\s*(\/?)>|([^<]+)/y;
  while (token.lastIndex < body.length) {
    const at = token.lastIndex;
    const match = token.exec(body);
    if (match === null) throw new Error(`not well-formed at ${at}: ${body.slice(at, at + 60)}`);
    const [, close, name = '', attributeText = '', selfClose, text] = match;
    const top = stack.at(-1) ?? root;
    if (text !== undefined) {
      if (text.includes(']]>')) throw new Error('stray ]]>');
      top.text += plain(text);
    } else if (close === '/') {
      if (top.name !== name) throw new Error(`</${name}> closes <${top.name}>`);
      stack.pop();
    } else {
      const attributes: Record<string, string> = {};
      for (const [, key = '', value = ''] of attributeText.matchAll(/([\w:-]+)="([^"]*)"/g)) {
        if (key in attributes) throw new Error(`attribute ${key} twice`);
        attributes[key] = plain(value);
      }
      const node: XmlNode = { name, attributes, children: [], text: '' };
      top.children.push(node);
      if (selfClose !== '/') stack.push(node);
    }
  }
  if (stack.length !== 1) throw new Error(`<${stack.at(-1)?.name}> never closed`);
  const [only, ...others] = root.children;
  if (only === undefined || others.length > 0) throw new Error('not exactly one root element');
  return only;
};

/** All elements with the given class, in document order. */
export const ofClass = (node: XmlNode, name: string): XmlNode[] => [
  ...(node.attributes.class === name ? [node] : []),
  ...node.children.flatMap((child) => ofClass(child, name)),
];
