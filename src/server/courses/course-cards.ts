import type { BuildFacts } from '../../course/build-facts.ts';
import type { ClassState } from '../../course/class-state.ts';
import { buildsOf } from '../../course/class-state.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { paperAsked, usualPaper } from '../prints/paper-asked.ts';
import type { PdfMaker } from '../prints/pdf-maker.ts';
import { cardPages } from '../prints/prints.service.ts';
import { Refusal } from '../refusal.ts';

interface CardsAsked {
  readonly state: ClassState;
  readonly patternOf: (facts: BuildFacts) => Pattern;
  readonly nowMs: number;
  readonly pdf: PdfMaker;
  readonly host: string;
  /** Id of one card; all of them when left out. */
  readonly card?: string;
  readonly paper?: string;
}

/**
 * The setting cards of the pattern a course follows, for the shop it works in.
 *
 * @throws Refusal when the course has no build yet, InputError for a card or a paper that is not known
 */
export async function courseCardsPdf(asked: CardsAsked): Promise<Uint8Array> {
  const { state, patternOf, nowMs, pdf, host, card } = asked;
  const first = buildsOf(state)[0]?.facts;
  if (!first)
    throw new Refusal(
      404,
      'no-build',
      'This course has no build yet, so it follows no pattern; add a learner.',
    );
  const shop = shopOfCourse(state);
  const paper = paperAsked(asked.paper, usualPaper(shop));
  const pattern = patternOf(first);
  const day = new Date(nowMs).toISOString().slice(0, 10);
  const pages = cardPages(
    {
      pattern,
      sheet: sheetOfPattern(pattern),
      shop,
      isDemo: state.course.setUp?.demo === true,
      revision: (first.pattern ?? '').slice(0, 6),
      day,
      host,
    },
    card,
  );
  return pdf.make({
    kind: 'pages',
    pages,
    options: {
      paper,
      printed100Mm: { x: shop.printed100.xMm, y: shop.printed100.yMm },
      documentTitle: `${pattern.name}: ${card ?? 'setting cards'}`,
      createdOn: day,
    },
  });
}
