const opaque = (tag: string): string => tag.trim().replace(/^W\//, '');

/** Weak comparison of If-None-Match with an entity tag (RFC 9110, 13.1.2). */
export const matchesEtag = (ifNoneMatch: string | undefined, etag: string): boolean => {
  if (ifNoneMatch === undefined) return false;
  if (ifNoneMatch.trim() === '*') return true;
  return ifNoneMatch.split(',').some((tag) => opaque(tag) === opaque(etag));
};
