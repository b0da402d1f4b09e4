/** The encoder inside the package `qrcode`, without its file and screen outputs: plain arithmetic, fit for the core. */
declare module 'qrcode/lib/core/qrcode.js' {
  export function create(
    words: string,
    options?: { readonly errorCorrectionLevel?: 'L' | 'M' | 'Q' | 'H' },
  ): {
    readonly modules: { readonly size: number; readonly data: Uint8Array };
  };
}
