import { useMemo, useRef } from 'react';
import { allRules } from '../../figures/catalogue.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { judgeAll } from '../../graph/remedy.ts';
import type { Judged } from '../../graph/rule.ts';
import type { Sheet } from '../../graph/sheet.ts';
import type { Pattern } from '../../pattern/pattern.ts';

/** The sheet of a pattern; only what a change reaches is computed anew. */
export function useSheet(pattern: Pattern): Sheet {
  const previous = useRef<Sheet>(undefined);
  return useMemo(() => {
    const sheet = sheetOfPattern(pattern, previous.current ? { previous: previous.current } : {});
    previous.current = sheet;
    return sheet;
  }, [pattern]);
}

/** All rules of a sheet, the worst first. */
export function useJudged(sheet: Sheet): readonly Judged[] {
  return useMemo(() => judgeAll(sheet, allRules), [sheet]);
}
