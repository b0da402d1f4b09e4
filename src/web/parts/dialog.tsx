import { type ReactNode, useEffect, useId, useRef } from 'react';

/** A sheet laid over the page: the browser's own dialog keeps the focus in it and closes it on Escape. */
export function Dialog(props: {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
}) {
  const place = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useEffect(() => {
    const dialog = place.current;
    dialog?.showModal();
    return () => dialog?.close();
  }, []);
  return (
    <dialog
      className="leaf-over"
      ref={place}
      aria-labelledby={titleId}
      // Escape; not the close event, which also comes when the dialog is taken away after an answer
      onCancel={(event) => {
        event.preventDefault();
        props.onClose();
      }}
    >
      <h2 id={titleId}>{props.title}</h2>
      {props.children}
    </dialog>
  );
}
