export interface Section {
  /** Empty for what stands before the first heading. */
  title: string;
  markdown: string;
}

/** The sheet's Markdown cut at its headings, so that each block can keep together on paper. Joined by blank lines it is the same text. */
export function sections(markdown: string): Section[] {
  return markdown
    .trim()
    .split(/\n{2,}(?=## )/)
    .map((part) => ({ title: /^## (.*)$/m.exec(part)?.[1] ?? '', markdown: part }));
}
