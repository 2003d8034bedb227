/** What a Prefer header (RFC 7240) asks for. */
export interface Preference {
  readonly respondAsync: boolean;
  /** Seconds to wait before the answer turns asynchronous; 0 when not given. */
  readonly wait: number;
}

const LONGEST_WAIT = 60;

export const parsePrefer = (header: string | undefined): Preference => {
  let respondAsync = false;
  let wait: number | null = null;
  for (const part of (header ?? '').slice(0, 500).split(/[,;]/)) {
    const [name = '', value = ''] = part.split('=').map((text) => text.trim());
    if (name.toLowerCase() === 'respond-async') respondAsync = true;
    // The first of repeated preferences counts (RFC 7240, section 2).
    if (name.toLowerCase() === 'wait' && wait === null) {
      const digits = value.replaceAll('"', '');
      if (/^\d{1,6}$/.test(digits)) wait = Math.min(Number(digits), LONGEST_WAIT);
    }
  }
  return { respondAsync, wait: wait ?? 0 };
};

/** Value of Preference-Applied for an answer that followed the preference. */
export const preferenceApplied = (preference: Preference): string =>
  preference.wait > 0 ? `respond-async, wait=${preference.wait}` : 'respond-async';
