export type PathPart = string | number;

/** JSON Pointer (RFC 6901) of a path into the request; '' is the whole document. */
export const jsonPointer = (path: readonly PathPart[]): string =>
  path.map((part) => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');

const SHOWN = 60;

const shorten = (text: string): string => (text.length > SHOWN ? `${text.slice(0, SHOWN)}...` : text);

/** The same path as a person writes it: zones[0].entry. */
export const fieldName = (path: readonly PathPart[]): string => {
  if (path.length === 0) return 'The body';
  let name = '';
  for (const part of path) {
    if (typeof part === 'number') name += `[${part}]`;
    else name += name === '' ? shorten(part) : `.${shorten(part)}`;
  }
  return name;
};
