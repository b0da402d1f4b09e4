import { useMemo } from 'react';
import { Link } from 'wouter';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { cardDrawing } from '../../prints/cards.ts';
import { cardsAbout } from '../../prints/cards-about.ts';
import { settingCards } from '../../settings/settings-of.ts';
import { PLAIN_SHOP } from '../../shop/shop.ts';
import { PlainDrawing } from '../parts/plain-drawing.tsx';
import './bench.css';
import { day } from './clock-words.ts';
import { coursePattern } from './course-pattern.ts';
import { DemoMark } from './demo-mark.tsx';
import { useCourse } from './use-course.ts';

/** A setting card on a phone: the same drawing that is printed, with the revision it is good for. */
export function CardPage({ card: id }: { readonly card: string }) {
  const course = useCourse();
  const { state, nowMs, isDemo, record } = course;
  const printedOn = day(nowMs);
  const shown = useMemo(() => {
    const { pattern, revision } = coursePattern(state);
    const shop = state ? shopOfCourse(state) : PLAIN_SHOP;
    const sheet = sheetOfPattern(pattern);
    const cards = settingCards(sheet, shop);
    const card = cards.find((c) => c.id === id);
    const address = `http://${shop.host ?? window.location.host}/card/`;
    const drawing =
      card && cardDrawing(card, cardsAbout(pattern, sheet, { revision, shop, printedOn, address, isDemo }));
    return { pattern, revision, card, cards, drawing, shop };
  }, [state, id, printedOn, isDemo]);
  if (record.state === 'loading') return <main id="main" className="bench" data-state="loading" />;
  const { pattern, revision, card, cards, drawing, shop } = shown;
  if (!card || !drawing)
    return (
      <main id="main" className="bench" data-state="empty">
        <h1>No such card</h1>
        <p className="says bad">
          There is no setting card “{id}” in {pattern.name}; the code may belong to another pattern. Choose
          one of these.
        </p>
        <ul className="names">
          {cards.map((c) => (
            <li key={c.id}>
              <Link className="btn" href={`/card/${c.id}`}>
                {c.title}
              </Link>
            </li>
          ))}
        </ul>
      </main>
    );
  return (
    <main id="main" className="bench card-page" data-state="ready">
      <header className="bench-head">
        <div>
          <h1>{card.title}</h1>
          <p className="q">
            {pattern.name}, revision {revision}, for{' '}
            {shop === PLAIN_SHOP ? 'no shop in particular' : shop.name}. A printed card of another revision is
            not good any more. <DemoMark isDemo={isDemo} />
          </p>
        </div>
      </header>
      <ul className="card-numbers">
        {card.settings.map((s) => (
          <li key={s.id}>
            <span className="q">{s.label}</span>{' '}
            <strong>
              {s.big.text} {s.big.unit}
            </strong>
            {s.small !== undefined && ` (${s.small})`}
          </li>
        ))}
      </ul>
      {state && (
        <p>
          <a className="btn sm" href={`/api/courses/${course.courseId}/cards.pdf?card=${card.id}`}>
            This card as PDF
          </a>{' '}
          <a className="btn sm" href={`/api/courses/${course.courseId}/cards.pdf`}>
            All cards as PDF
          </a>
        </p>
      )}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways must be reached by keyboard */}
      <section className="card-sheet" aria-label="The card as it is printed" tabIndex={0}>
        <PlainDrawing
          entities={drawing.entities}
          bounds={drawing.frame}
          words={`Card: ${card.title}`}
          isSheet
        />
      </section>
      <p className="q">The shop’s own rules, the maker’s manual and local codes come first.</p>
    </main>
  );
}
