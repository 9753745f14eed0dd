import { useEffect, useState } from 'hono/jsx/dom';
import type { JobSheet } from '../../server/shapes/sheet.ts';
import { type Failure, sheetJson, sheetMarkdown } from '../api.ts';

export interface FilledSheet {
  json?: JobSheet;
  markdown: string;
  failure?: Failure;
}

/** The sheet of a case as it stands at this revision; the last one stays in view while a newer one is on its way. */
export function useSheet(id: string | undefined, rev: number | undefined): FilledSheet {
  const [sheet, setSheet] = useState<FilledSheet>({ markdown: '' });
  useEffect(() => {
    if (!id) return;
    let wanted = true;
    void Promise.all([sheetJson(id), sheetMarkdown(id)]).then(([json, markdown]) => {
      if (!wanted) return;
      if (json.ok && markdown.ok) setSheet({ json: json.value, markdown: markdown.value });
      else setSheet((now) => ({ ...now, failure: !json.ok ? json.failure : !markdown.ok ? markdown.failure : undefined }));
    });
    return () => {
      wanted = false;
    };
  }, [id, rev]);
  return sheet;
}
