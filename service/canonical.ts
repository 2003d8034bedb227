import { createHash } from 'node:crypto';

/** JSON with the members of every object in order of their names; equal values give equal text. */
export const canonicalJson = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value === 'object' && value !== null) {
    const members = Object.entries(value)
      .filter(([, member]) => member !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, member]) => `${JSON.stringify(name)}:${canonicalJson(member)}`);
    return `{${members.join(',')}}`;
  }
  return JSON.stringify(value);
};

/** 128 bits of SHA-256 in base64url: 22 characters. */
export const shortHash = (text: string): string =>
  createHash('sha256').update(text).digest().subarray(0, 16).toString('base64url');
