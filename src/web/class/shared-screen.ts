import { useState } from 'react';

const KEY = 'bracewright-shared';

const kept = (): boolean => {
  try {
    return sessionStorage.getItem(KEY) === 'yes';
  } catch {
    return false;
  }
};

/** Whether this screen is turned to the class: then it shows no dates, no late marks, no readings and no order. */
export function useSharedScreen(): readonly [boolean, (isShared: boolean) => void] {
  const [isShared, setShared] = useState(kept);
  const turn = (next: boolean) => {
    try {
      sessionStorage.setItem(KEY, next ? 'yes' : 'no');
    } catch {
      // it then lasts as long as the page is open
    }
    setShared(next);
  };
  return [isShared, turn];
}
