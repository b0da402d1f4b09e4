import { describe, expect, it } from 'vitest';
import { bounds } from '../drawing/bounds.ts';
import { drawingToSvg } from '../output/svg.ts';
import { planClass } from '../schedule/class/plan.ts';
import { twoLearners } from '../schedule/class/small-class.fixture.ts';
import { PLAN_WIDTH_MM, planOverview, planSheets } from './plan-sheets.ts';

const problem = twoLearners();
const { entries } = planClass(problem, { iterations: 30, seed: 1 });
const about = {
  courseName: 'Evening',
  clockText: (minute: number): string =>
    `2026-10-06T${String(Math.floor(minute / 60) % 24).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`,
};

describe('sheets of the plan', () => {
  const sheets = planSheets(problem, entries, about);

  it('are one for each session in which something is planned', () => {
    const used = problem.windows.filter(
      (w) =>
        w.kind === 'session' &&
        entries.some((e) => e.pieces.some((p) => p.beginMin >= w.beginMin && p.endMin <= w.endMin)),
    );
    // work without a station has no row, so a session in which only such work is planned has no sheet
    expect(sheets.length).toBeGreaterThan(1);
    expect(sheets.length).toBeLessThanOrEqual(used.length);
    expect(sheets[0]!.title).toBe('Session 1');
  });

  it('stay on the paper and show who does what at the saw', () => {
    for (const sheet of [...sheets, planOverview(problem, entries, about)]) {
      const reach = bounds(sheet.entities)!;
      expect(reach.minX).toBeGreaterThanOrEqual(-0.5);
      expect(reach.maxX).toBeLessThanOrEqual(PLAN_WIDTH_MM + 3);
      expect(reach.maxY).toBeLessThanOrEqual(252);
    }
    const words = sheets[0]!.entities.flatMap((e) => (e.kind === 'text' ? [e.text] : []));
    expect(words).toContain('saw');
    expect(words.some((w) => /^(Ada|Ben) cut$/.test(w))).toBe(true);
    expect(drawingToSvg(sheets[0]!)).toContain('saw');
  });

  it('begin and end each bar where the plan does', () => {
    const cut = entries.find((e) => e.activityId === 'Ada/cut')!;
    const session = problem.windows.find(
      (w) =>
        w.kind === 'session' && w.beginMin <= cut.pieces[0]!.beginMin && cut.pieces[0]!.endMin <= w.endMin,
    )!;
    const scale = (PLAN_WIDTH_MM - 42) / (session.endMin - session.beginMin);
    const left = 42 + (cut.pieces[0]!.beginMin - session.beginMin) * scale;
    const sheet = sheets.find((s) => s.title === `Session ${Math.floor(session.beginMin / 10_080) + 1}`)!;
    expect(sheet.entities.some((e) => e.kind === 'path' && Math.abs(e.start.x - left) < 1e-9)).toBe(true);
  });
});
