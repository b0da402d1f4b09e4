import './demo-mark.css';

/** Says that nothing here is real. */
export function DemoMark({ isDemo }: { readonly isDemo: boolean }) {
  return isDemo ? <strong className="demo">Demo</strong> : null;
}
