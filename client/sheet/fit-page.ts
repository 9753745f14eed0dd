import paper from '../style/paper.css?url';

/** Classes of paper.css in tenths of a point, the largest print first; without one of them it is the smallest. */
const SIZES = [100, 94, 88, 83, 78, 74, 70, 66, 62, 58].map((tenths) => `print-${tenths}`);
/** Inside margins of 8 mm, less 3 mm of height for how print rounds. Which of them is in the printer is not known: it has to fit both. */
const PAPERS = [
  { width: '194mm', height: '278mm' }, // A4
  { width: '200mm', height: '260mm' }, // Letter
];

let rules: Promise<HTMLLinkElement> | undefined;
/** The rules for paper, fetched once a sheet is shown. @returns their link as soon as they count */
function paperRules(): Promise<HTMLLinkElement> {
  rules ??= new Promise((done) => {
    const link = document.createElement('link');
    const there = () => done(link);
    // Without the file nothing can be measured, and the sheet prints as the browser sees fit.
    Object.assign(link, { rel: 'stylesheet', media: 'print', href: paper, onload: there, onerror: there });
    document.head.append(link);
  });
  return rules;
}

/** @returns the class of the largest print with which this sheet fits one page, whatever letters it is set in; '' when none does */
export async function sizeForOnePage(sheet: HTMLElement): Promise<string> {
  const link = await paperRules();
  // Lays the text out, so that the letters it needs are on their way before they are waited for.
  sheet.getBoundingClientRect();
  await document.fonts.ready;
  return sheet.isConnected ? measured(sheet, link) : '';
}

/** The rules for paper count while this runs and no longer: nothing is drawn in between, and the page stays where it was scrolled to. */
function measured(sheet: HTMLElement, link: HTMLLinkElement): string {
  const scroller = sheet.parentElement!;
  const before = { name: sheet.className, x: scrollX, y: scrollY, across: scroller.scrollLeft };
  const room = scroller.appendChild(document.createElement('div'));
  const fits = ({ width, height }: (typeof PAPERS)[number]) => {
    sheet.style.width = width;
    room.style.height = height;
    return sheet.getBoundingClientRect().height <= room.getBoundingClientRect().height;
  };
  link.media = 'all';
  try {
    const fitting = SIZES.find((size) => {
      sheet.className = `sheet-text ${size}`;
      return PAPERS.every(fits);
    });
    return fitting ?? '';
  } finally {
    link.media = 'print';
    room.remove();
    sheet.className = before.name;
    sheet.style.width = '';
    scroller.scrollLeft = before.across;
    scrollTo(before.x, before.y);
  }
}
