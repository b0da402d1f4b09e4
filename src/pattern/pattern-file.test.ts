import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { InputError } from '../quantity/input-error.ts';
import { editPattern } from './edit-pattern.ts';
import { readPattern } from './pattern-file.ts';

const files = ['small-steel-string', 'nylon-string', 'tenor-ukulele'];
const text = (name: string): string => fs.readFileSync(`data/patterns/${name}.yaml`, 'utf8');
const steel = text('small-steel-string');

/** The sentence a text is refused with. */
function refusal(yaml: string): InputError {
  try {
    readPattern(yaml);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('this pattern was not refused');
}

describe('readPattern', () => {
  it.each(files)('reads %s', (name) => {
    const p = readPattern(text(name));
    expect(p.numbers.size).toBeGreaterThan(100);
    expect(p.mine.size).toBe(0);
    expect(p.strings.length).toBe(p.instrument === 'uke' ? 4 : 6);
  });

  it('reads inches exactly', () => {
    const p = readPattern(steel.replace('length: 480 mm', 'length: 18 57/64 in'));
    expectClose(p.numbers.get('body.length'), (18 + 57 / 64) * 25.4, { tol: 1e-9, source: 'inch-1959' });
  });

  it.each([
    ['a key that does not exist', steel.replace('waist:', 'waste:'), /"waste" in "body".*line \d+.*"waist"/],
    [
      'a slip of ten',
      steel.replace('final: 2.8 mm', 'final: 28 mm'),
      /Top, final is "28 mm".*between 1 and 5 mm.*2\.8 mm/,
    ],
    ['a wrong unit', steel.replace('length: 628 mm', 'length: 628 kg'), /Scale length.*628 kg/],
    ['no number', steel.replace('length: 628 mm', 'length: .nan'), /Scale length.*no number/],
    ['an enormous number', steel.replace('length: 628 mm', 'length: 1e9'), /Scale length is "1e9"/],
    [
      'another version',
      steel.replace('pattern/1', 'pattern/7'),
      /version "bracewright-pattern\/7".*"bracewright-pattern\/1"/,
    ],
    [
      'another kind of file',
      steel.replace('bracewright-pattern/1', 'bracewright-shop/1'),
      /give the right file/,
    ],
    ['broken YAML', `${steel}\n  - [`, /^Line \d+ of this pattern cannot be read/],
    [
      'a key twice',
      steel.replace('  length: 628 mm', '  length: 628 mm\n  length: 629 mm'),
      /a key stands there twice/,
    ],
    ['a missing number', steel.replace('  length: 628 mm\n', ''), /does not give "scale.length"/],
    [
      'an unknown word',
      steel.replace('handed: right', 'handed: both'),
      /"handed".*"both"; it must be right or left/,
    ],
    ['one list where a group belongs', steel.replace(/hole:\n(?: .*\n)+/, 'hole: [1, 2]\n'), /"hole"/],
    ['mine naming nothing', steel.replace('mine: []', 'mine: [body.size]'), /"mine".*"body.size"/],
  ])('refuses %s in one sentence', (_what, yaml, words) => {
    const error = refusal(yaml);
    expect(error.message).toMatch(words);
    expect(error.message).not.toMatch(/\n|undefined|\bat \//);
  });
});

describe('editPattern', () => {
  it('changes one value and leaves every other letter alone', () => {
    const edited = editPattern(steel, [{ id: 'body.waist.width', value: '9 19/64 in' }]);
    const changed = edited.split('\n').filter((line, i) => line !== steel.split('\n')[i]);
    expect(changed).toEqual(['mine: [body.waist.width]', '    width: 9 19/64 in']);
    expectClose(readPattern(edited).numbers.get('body.waist.width'), 9.296875 * 25.4, {
      tol: 1e-9,
      source: 'inch-1959',
    });
  });

  it('writes a value that has a group of its own', () => {
    const p = readPattern(editPattern(steel, [{ id: 'setup.relief', value: 0.2 }]));
    expect(p.numbers.get('setup.relief')).toBe(0.2);
    expect(p.mine.has('setup.relief')).toBe(true);
  });

  it('adds a number that was not given', () => {
    const ukulele = text('tenor-ukulele');
    expect(readPattern(ukulele).numbers.has('board.radius')).toBe(false);
    expect(
      readPattern(editPattern(ukulele, [{ id: 'board.radius', value: 350 }])).numbers.get('board.radius'),
    ).toBe(350);
  });

  it('keeps a name whole that holds a colon, a hash or a line end', () => {
    for (const name of ['Body: no 2', '#4 template', 'Old body # of 1931', "Ann's", '12', 'two\nlines'])
      expect(readPattern(editPattern(steel, [{ id: 'name', value: name }])).name).toBe(name);
    expect(editPattern(steel, [{ id: 'name', value: 'Plain name' }])).toContain('\nname: Plain name\n');
  });

  it('refuses an implausible value before anything is changed', () => {
    expect(() => editPattern(steel, [{ id: 'top.thickness.final', value: '.28' }])).toThrow(/2\.8 mm/);
    expect(() => editPattern(steel, [{ id: 'body.waist.with', value: '3' }])).toThrow(/"body.waist.width"/);
  });
});
