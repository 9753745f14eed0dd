const LONGEST_HEADING = 120;

/** What is asked for a heading, how it is done for below: the first paragraph, or its first sentence where it is long. */
export function headAndRest(text: string): [head: string, rest: string] {
  const [paragraph = '', ...more] = text.trim().split(/\n{2,}/);
  const sentence = paragraph.length > LONGEST_HEADING ? /^(.{12,}?[.?!])\s+(\S[\s\S]*)$/.exec(paragraph) : null;
  return sentence ? [sentence[1]!, [sentence[2]!, ...more].join('\n\n')] : [paragraph, more.join('\n\n')];
}

/** Takes the list of readings off the end of a question; its lines stand at the fields instead. */
export function withoutReads(text: string, labels: string[]): { text: string; hints: Record<string, string> } {
  const hints: Record<string, string> = {};
  const left = text.split('\n').filter((line) => {
    const label = labels.find((l) => line.startsWith(`- ${l}: `));
    if (label === undefined) return true;
    hints[label] = line.slice(label.length + 4);
    return false;
  });
  return { text: left.join('\n').trim(), hints };
}
