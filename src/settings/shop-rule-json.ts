import type { ShopJudged } from './shop-rules.ts';

/** A rule of pattern against shop as scripts and pages get it; same members as the rules of a pattern. */
export interface ShopRuleJson {
  readonly id: string;
  readonly label: string;
  readonly state: ShopJudged['state'];
  readonly value: number;
  readonly unit: string;
  readonly limits: { readonly hard: ShopJudged['hard']; readonly soft?: ShopJudged['hard'] };
  readonly text: string;
  readonly remedy?: string;
  readonly source: string;
}

/** A judged shop rule as JSON. @source arithmetic */
export function shopRuleJson(j: ShopJudged): ShopRuleJson {
  const { id, label, state, value, unit, hard, soft, source } = j;
  return {
    id,
    label,
    state,
    value,
    unit,
    limits: { hard, ...(soft === undefined ? {} : { soft }) },
    text: `${j.text} ${j.why}`,
    ...(j.remedy === '' ? {} : { remedy: j.remedy }),
    source,
  };
}
