/** What came of the last press of a form; a fault interrupts. Left out while there is nothing to say. */
export function Says({ words, isFault = false }: { readonly words: string; readonly isFault?: boolean }) {
  if (words === '') return null;
  return (
    <p className={isFault ? 'says bad' : 'says'} role={isFault ? 'alert' : 'status'}>
      {words}
    </p>
  );
}
