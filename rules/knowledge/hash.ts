/** JSON with sorted keys and no space: the same content gives the same text. */
export function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (typeof value === 'object' && value !== null) {
    const entries = Object.entries(value).filter(([, v]) => v !== undefined);
    entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${entries.map(([k, v]) => `${JSON.stringify(k)}:${canonical(v)}`).join(',')}}`;
  }
  return JSON.stringify(value) ?? 'null';
}

// The 64 bits are kept as four 16-bit words: plain numbers are some fifty times faster here than big integers.
// The prime is 2^40 + 0x1b3, so a product is the word times 0x1b3 plus the words moved up by 40 bits.
/** FNV-1a, 64 bits, over the UTF-16 code units of a text (low byte, then high byte), as 16 hexadecimal digits. */
export function fnv1a64(text: string): string {
  let [a, b, c, d] = [0x2325, 0x8422, 0x9ce4, 0xcbf2];
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    for (const byte of [unit & 0xff, unit >>> 8]) {
      a ^= byte;
      const p0 = a * 0x1b3;
      const p1 = b * 0x1b3 + (p0 >>> 16);
      const p2 = c * 0x1b3 + (p1 >>> 16) + ((a & 0xff) << 8);
      const p3 = d * 0x1b3 + (p2 >>> 16) + ((a >>> 8) | ((b & 0xff) << 8));
      a = p0 & 0xffff;
      b = p1 & 0xffff;
      c = p2 & 0xffff;
      d = p3 & 0xffff;
    }
  }
  return [d, c, b, a].map((w) => w.toString(16).padStart(4, '0')).join('');
}
