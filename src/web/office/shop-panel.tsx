import { type ChangeEvent, type ReactNode, useMemo, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { shopFileOf, shopOfCourse } from '../../course/shop-of-record.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { InputError } from '../../quantity/input-error.ts';
import { changedSettings, settingCards } from '../../settings/settings-of.ts';
import type { Shop } from '../../shop/shop.ts';
import { readShop } from '../../shop/shop-file.ts';
import { freshId, shopStream } from '../class/acts.ts';
import { coursePattern } from '../class/course-pattern.ts';
import { handOverFile } from '../parts/hand-over-file.ts';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';

/** Largest shop file that is read, characters; one with twenty machines has about six thousand. */
const MOST_TEXT = 200_000;
const SHOWN = 12;

/** A shop file that was chosen and not kept yet. */
interface Chosen {
  readonly text: string;
  readonly shop: Shop;
}

/** What the record knows of machines and jigs; a shop file taken in or out. */
export function ShopPanel({ state, isDemo }: { readonly state: ClassState; readonly isDemo: boolean }) {
  const [chosen, setChosen] = useState<Chosen>();
  const [says, setSays] = useState('');
  const [isFault, setFault] = useState(false);
  const shop = shopOfCourse(state);
  const file = shopFileOf(state.shop);
  const say = (words: string, fault = false) => {
    setSays(words);
    setFault(fault);
  };
  const choose = async (event: ChangeEvent<HTMLInputElement>) => {
    const picked = event.target.files?.[0];
    event.target.value = '';
    if (!picked) return;
    setChosen(undefined);
    try {
      if (picked.size > MOST_TEXT)
        throw new InputError(
          'shop-file',
          `${picked.name} has ${picked.size} bytes, and a shop file has at most ${MOST_TEXT}; choose the YAML file of your shop.`,
        );
      const text = await picked.text();
      const read = readShop(text);
      if (text === file?.text) return say(`${picked.name} is what the record has already.`);
      setChosen({ text, shop: read });
      say('');
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      say(`${picked.name}: ${error.message}`, true);
    }
  };
  const keep = async ({ text, shop: read }: Chosen) => {
    const body = { what: 'shop', revision: freshId('shop'), name: read.name, text };
    await enter([{ stream: shopStream(isDemo), kind: 'revision-made', body }]);
    setChosen(undefined);
    say(`Kept: ${read.name}. Cards, settings and batches follow it from now on.`);
  };
  return (
    <div className="shop-file">
      <h3>{shop.name}</h3>
      <p className="q2">
        {file
          ? 'Every card, setting and batch is made for these machines and jigs. What is proved at a machine is counted on top of the file.'
          : 'No shop file has been taken in: machines are taken as true and jigs as adjustable.'}{' '}
        A shop file is a plain text with the machines, jigs, cutters and house rules; take one out, change it
        in any editor and take it in again.
      </p>
      <div className="acts">
        <label className="btn">
          Take in a shop file
          <input className="vh" type="file" accept=".yaml,.yml" onChange={(e) => void choose(e)} />
        </label>
        {file && (
          <button
            type="button"
            className="btn"
            onClick={() =>
              handOverFile('shop.yaml', new Blob([file.text], { type: 'application/yaml;charset=utf-8' }))
            }
          >
            Take the shop file out
          </button>
        )}
      </div>
      <Says words={says} isFault={isFault} />
      {chosen && (
        <Change state={state} from={shop} to={chosen.shop}>
          <button type="button" className="btn go" onClick={() => void keep(chosen)}>
            Keep this shop file
          </button>{' '}
          <button type="button" className="btn" onClick={() => setChosen(undefined)}>
            Leave it
          </button>
        </Change>
      )}
    </div>
  );
}

/** What another shop file would set anew, before it is kept. */
function Change(props: {
  readonly state: ClassState;
  readonly from: Shop;
  readonly to: Shop;
  readonly children: ReactNode;
}) {
  const { state, from, to, children } = props;
  const changes = useMemo(() => {
    const sheet = sheetOfPattern(coursePattern(state).pattern);
    return changedSettings(settingCards(sheet, from), settingCards(sheet, to));
  }, [state, from, to]);
  return (
    <div className="shop-change">
      <h4>
        {to.name}: {to.machines.length} machines, {to.jigs.length} jigs
      </h4>
      <p>
        {changes.length === 0
          ? 'No setting of this course’s pattern comes out differently.'
          : `${changes.length} settings of this course’s pattern come out differently; cards printed before are not good any more.`}
      </p>
      {changes.length > 0 && (
        <ul>
          {changes.slice(0, SHOWN).map((c) => (
            <li key={c.id}>
              {c.label}: {c.from ?? 'not set'} to <strong>{c.to ?? 'not set'}</strong>
            </li>
          ))}
          {changes.length > SHOWN && <li>and {changes.length - SHOWN} more</li>}
        </ul>
      )}
      <p className="acts">{children}</p>
    </div>
  );
}
