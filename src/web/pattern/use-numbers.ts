import { useEffect, useMemo, useRef, useState } from 'react';
import { allRules } from '../../figures/catalogue.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { judgeAll } from '../../graph/remedy.ts';
import type { Judged } from '../../graph/rule.ts';
import type { Sheet } from '../../graph/sheet.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import type { SettingChange } from '../../settings/settings-of.ts';
import type { Shop } from '../../shop/shop.ts';

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

const NO_CHANGES: readonly SettingChange[] = [];

/** Settings of this shop that come out differently; computed a moment after the last change, with the settings loaded when first needed. */
export function useSettingChanges(
  before: Sheet,
  now: Sheet,
  isDragging: boolean,
  shop: Shop | undefined,
): readonly SettingChange[] {
  const [changes, setChanges] = useState(NO_CHANGES);
  const isSame = before === now;
  useEffect(() => {
    if (isDragging || isSame) return;
    let isWanted = true;
    const timer = window.setTimeout(async () => {
      const { changedSettings, settingCards } = await import('../../settings/settings-of.ts');
      if (isWanted) setChanges(changedSettings(settingCards(before, shop), settingCards(now, shop)));
    }, 120);
    return () => {
      isWanted = false;
      window.clearTimeout(timer);
    };
  }, [before, now, isDragging, isSame, shop]);
  return isSame ? NO_CHANGES : changes;
}
