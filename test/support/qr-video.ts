import { qrModules } from '../../src/drawing/qr-code.ts';

const WIDTH = 640;
const HEIGHT = 480;

/**
 * A film of one picture, uncompressed (YUV4MPEG2), as a camera would see a printed code: grey paper, the code turned
 * by a few degrees.
 *
 * @param words  what the code says
 */
export function qrVideo(words: string): Buffer {
  const { sizeCount, isDark } = qrModules(words);
  const squarePx = 300 / sizeCount;
  const angle = 0.15;
  const luma = Buffer.alloc(WIDTH * HEIGHT, 90);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const dx = x - WIDTH / 2;
      const dy = y - HEIGHT / 2;
      const column = Math.floor((dx * Math.cos(angle) + dy * Math.sin(angle)) / squarePx + sizeCount / 2);
      const row = Math.floor((-dx * Math.sin(angle) + dy * Math.cos(angle)) / squarePx + sizeCount / 2);
      const isOnPaper = [row, column].every((i) => i >= -4 && i < sizeCount + 4);
      const isInCode = [row, column].every((i) => i >= 0 && i < sizeCount);
      if (isOnPaper) luma[y * WIDTH + x] = isInCode && isDark(row, column) ? 30 : 220;
    }
  const frame = Buffer.concat([Buffer.from('FRAME\n'), luma, Buffer.alloc((WIDTH * HEIGHT) / 2, 128)]);
  const head = Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`);
  return Buffer.concat([head, ...Array.from({ length: 10 }, () => frame)]);
}
