import type { BuildFacts } from '../../course/build-facts.ts';
import { type ClassState, labelOf } from '../../course/class-state.ts';
import { type SessionSheet, sessionOfPaper, sessionSheet } from '../../course/session-sheet.ts';
import { unitsOfClass } from '../../course/shop-of-record.ts';
import { stationBatch } from '../../course/station-batch.ts';
import type { Drawing } from '../../drawing/model.ts';
import type { PaperName } from '../../output/paper.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { batchCard } from '../../prints/batch-card.ts';
import {
  partTags,
  type SheetAbout,
  sessionSheetDrawings,
  substituteSheet,
} from '../../prints/session-sheet.ts';
import { isFinding } from '../../quantity/finding.ts';
import type { PdfMaker } from '../prints/pdf-maker.ts';
import { Refusal } from '../refusal.ts';

interface PaperWish {
  readonly state: ClassState;
  readonly patternOf: (facts: BuildFacts) => Pattern;
  readonly nowMs: number;
  /** Host that the codes on part tags lead to. */
  readonly host: string;
  readonly paper: PaperName;
  readonly pdf: PdfMaker;
}

/** `Tuesday 3 November, 18:30`, by the clock of the server. */
function sessionWords(ms: number): string {
  return new Date(ms).toLocaleString('en-GB', {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    hour: '2-digit',
    minute: '2-digit',
  });
}

/** Lists with the numbers to type, for batches that are taken down to a thickness. */
function batchPages(wish: PaperWish, sheet: SessionSheet, about: SheetAbout): readonly Drawing[] {
  return sheet.batches.flatMap((b) => {
    const batch = stationBatch(wish.state, b.station, b.op, b.builds, sheet.session.startMs, wish.patternOf);
    const facts = wish.state.builds.get(b.builds[0] ?? '');
    if (!batch || isFinding(batch) || !facts) return [];
    const named = (ids: readonly string[]) => ids.map(about.nameOf);
    const steps = batch.steps.map((s) => ({
      ...s,
      feed: named(s.feed),
      wait: named(s.wait),
      out: s.out.map((o) => ({ ...o, id: about.nameOf(o.id) })),
    }));
    const plates = batch.plates.map((p) => ({ ...p, id: about.nameOf(p.build) }));
    return batchCard(plates, steps, {
      title: `${about.isDemo ? 'DEMO: ' : ''}${b.name}`,
      patternName: wish.patternOf(facts).name,
      revision: (facts.pattern ?? '').slice(0, 6),
      printedOn: about.printedOn,
      unit: batch.machine.unit,
    });
  });
}

/**
 * The paper of the session that is next, or still open: session sheet, cover for a substitute, batch lists, part tags.
 *
 * @throws Refusal when the course has no session ahead
 */
export async function sessionPaper(wish: PaperWish): Promise<Uint8Array> {
  const { state, nowMs, paper } = wish;
  const session = sessionOfPaper(state, nowMs);
  if (!session)
    throw new Refusal(
      404,
      'no-session',
      'No session of this course lies ahead, so there is no sheet to print; plan one first.',
    );
  const sheet = sessionSheet(state, session);
  const numbers = new Map([...state.course.learners.values()].map((l) => [l.build, l]));
  const day = new Date(nowMs).toISOString().slice(0, 10);
  const about: SheetAbout = {
    course: state.course.setUp?.name ?? 'Course',
    session: sessionWords(session.startMs),
    printedOn: day,
    isDemo: state.course.setUp?.demo === true,
    lengthUnit: unitsOfClass(state),
    nameOf: (build) => {
      const l = numbers.get(build);
      return l ? `${l.number ?? ''} ${labelOf(state, l.person)}`.trim() : 'somebody';
    },
    addressOf: (build) => `http://${wish.host}/bench/${build}`,
    isLeftHanded: (build) => state.builds.get(build)?.setUp?.handed === 'left',
  };
  const drawings = [
    ...sessionSheetDrawings(sheet, about),
    substituteSheet(sheet, about),
    ...batchPages(wish, sheet, about),
    ...partTags(sheet, about),
  ];
  return wish.pdf.make({
    kind: 'pages',
    pages: drawings.map((drawing) => ({ kind: 'fixed', drawing })),
    options: { paper, documentTitle: `${about.course}, ${about.session}`, createdOn: day },
  });
}
