import { pictureEntities } from '../../prints/card-picture.ts';
import { sizesIn } from '../../quantity/print-length.ts';
import type { Setting, SettingCard } from '../../settings/setting.ts';
import { measuredText } from '../parts/amount-text.ts';
import { PlainDrawing } from '../parts/plain-drawing.tsx';
import './bench.css';

const ROOM = { minX: 0, minY: 0, maxX: 127, maxY: 78 };

/** A limit in the unit of the number it belongs to. */
const limit = (s: Setting, value: number): string =>
  measuredText(s.unit === 'mm' ? value : Number(value.toFixed(2)), s.unit, s.big.unit === 'in' ? 'in' : 'mm');

/** What a step is set to: numbers very large, the other unit beside, the picture computed from the pattern. */
export function BenchSettings(props: { readonly cards: readonly SettingCard[]; readonly unit: 'mm' | 'in' }) {
  const { cards, unit } = props;
  const size = sizesIn(unit);
  return cards.map((card) => (
    <section key={card.id} className="type-this" aria-label={card.title}>
      <h2 className="nm">{card.settings.length > 1 ? card.title : 'Type this'}</h2>
      <ul className={card.settings.length > 1 ? 'many' : 'one'}>
        {card.settings.slice(0, 12).map((s) => (
          <li key={s.id}>
            {card.settings.length > 1 && <span className="q">{s.label}</span>}
            <span className="big">
              <span className="number">{s.big.text}</span>
              <span className="unit">
                {s.big.unit}
                {s.small !== undefined && <span className="small">{s.small}</span>}
              </span>
            </span>
            {s.low !== undefined && s.high !== undefined && (
              <span className="q">
                read between {limit(s, s.low)} and {limit(s, s.high)}
              </span>
            )}
            {s.note && <span className="says">{s.note}</span>}
          </li>
        ))}
      </ul>
      <PlainDrawing entities={pictureEntities(card.picture, ROOM, size)} bounds={ROOM} words={card.title} />
      <p>{card.lie}</p>
      <ul className="checks">
        {card.onScrap.map((c) => (
          <li key={c}>{c}</li>
        ))}
      </ul>
    </section>
  ));
}
