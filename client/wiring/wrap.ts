/** px a character takes on average in the picture's type. */
export const CHAR = 6.1;

/** Words in lines of at most so many characters; a longer word stands alone. */
export function wrap(text: string, chars: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= chars) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
