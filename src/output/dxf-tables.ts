import { DASHES_PX, LAYER_NAMES, LAYERS, type LineTypeName, printDashesMm } from '../drawing/line-types.ts';
import type { BoundsMm } from '../drawing/model.ts';
import type { DxfTag } from './dxf-tags.ts';

/** Handles of the fixed objects; entities begin at `FIRST_ENTITY_HANDLE`. */
export const MODEL_SPACE_HANDLE = '20';
export const FIRST_ENTITY_HANDLE = 0x100;

/** Colour index of each layer: 7 is black on white, 8 and 9 are greys. */
const GREY_LAYERS: ReadonlySet<string> = new Set(['ghost', 'hidden', 'centre', 'dimension']);

/** Line widths that the format knows, hundredths of a mm (DXF reference, from memory). */
const KNOWN_WIDTHS = [
  0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211,
];

/** The known line width nearest to one in mm. @source from memory */
export function dxfLineWidth(widthMm: number): number {
  const wanted = widthMm * 100;
  return KNOWN_WIDTHS.reduce((best, known) =>
    Math.abs(known - wanted) < Math.abs(best - wanted) ? known : best,
  );
}

/** Names of line types as the file has them. */
export function dxfLineType(lineType: LineTypeName): string {
  return lineType === 'CONTINUOUS' ? 'Continuous' : lineType;
}

/**
 * Header: release 2007 (its text is UTF-8), mm, metric.
 *
 * @param at  bounds with y up
 */
export function headerTags(at: BoundsMm, handleSeed: string): readonly DxfTag[] {
  return [
    ...section('HEADER'),
    ...variable('$ACADVER', [[1, 'AC1021']]),
    ...variable('$DWGCODEPAGE', [[3, 'ANSI_1252']]),
    ...variable('$INSBASE', point(0, 0)),
    ...variable('$EXTMIN', point(at.minX, at.minY)),
    ...variable('$EXTMAX', point(at.maxX, at.maxY)),
    ...variable('$LTSCALE', [[40, 1]]),
    ...variable('$CLAYER', [[8, '0']]),
    ...variable('$LUNITS', [[70, 2]]),
    ...variable('$LUPREC', [[70, 3]]),
    ...variable('$HANDSEED', [[5, handleSeed]]),
    ...variable('$INSUNITS', [[70, 4]]),
    ...variable('$MEASUREMENT', [[70, 1]]),
    [0, 'ENDSEC'],
  ];
}

function variable(name: string, tags: readonly DxfTag[]): readonly DxfTag[] {
  return [[9, name], ...tags];
}

function point(x: number, y: number): readonly DxfTag[] {
  return [
    [10, x],
    [20, y],
    [30, 0],
  ];
}

/** The start of a section. */
export function section(name: string): readonly DxfTag[] {
  return [
    [0, 'SECTION'],
    [2, name],
  ];
}

/** Every table that readers ask for, layers and line types from the one table of the drawing model. */
export function tablesTags(at: BoundsMm): readonly DxfTag[] {
  return [
    ...section('TABLES'),
    ...table('VPORT', '1', [viewport(at)]),
    ...table('LTYPE', '2', lineTypes()),
    ...table('LAYER', '3', layers()),
    ...table('STYLE', '4', [textStyle()]),
    ...table('VIEW', '5', []),
    ...table('UCS', '6', []),
    ...table('APPID', '7', [record('APPID', '1A', '7', 'AcDbRegAppTableRecord', 'ACAD', [[70, 0]])]),
    ...table('DIMSTYLE', '8', [dimensionStyle()]),
    ...table('BLOCK_RECORD', '9', [
      record('BLOCK_RECORD', MODEL_SPACE_HANDLE, '9', 'AcDbBlockTableRecord', '*Model_Space', []),
      record('BLOCK_RECORD', '24', '9', 'AcDbBlockTableRecord', '*Paper_Space', []),
    ]),
    [0, 'ENDSEC'],
  ];
}

function table(name: string, handle: string, records: readonly (readonly DxfTag[])[]): readonly DxfTag[] {
  return [
    [0, 'TABLE'],
    [2, name],
    [5, handle],
    [330, '0'],
    [100, 'AcDbSymbolTable'],
    [70, records.length],
    ...(name === 'DIMSTYLE' ? ([[100, 'AcDbDimStyleTable']] as const) : []),
    ...records.flat(),
    [0, 'ENDTAB'],
  ];
}

function record(
  type: string,
  handle: string,
  owner: string,
  marker: string,
  name: string,
  tags: readonly DxfTag[],
): readonly DxfTag[] {
  return [
    [0, type],
    [type === 'DIMSTYLE' ? 105 : 5, handle],
    [330, owner],
    [100, 'AcDbSymbolTableRecord'],
    [100, marker],
    [2, name],
    ...tags,
  ];
}

function viewport({ minX, minY, maxX, maxY }: BoundsMm): readonly DxfTag[] {
  const heightMm = Math.max(maxY - minY, 1);
  return record('VPORT', '19', '1', 'AcDbViewportTableRecord', '*Active', [
    [70, 0],
    [10, 0],
    [20, 0],
    [11, 1],
    [21, 1],
    [12, (minX + maxX) / 2],
    [22, (minY + maxY) / 2],
    [16, 0],
    [26, 0],
    [36, 1],
    [40, heightMm * 1.05],
    [41, Math.max(maxX - minX, 1) / heightMm],
  ]);
}

function lineTypes(): readonly (readonly DxfTag[])[] {
  const fixed = ['ByBlock', 'ByLayer'].map((name, index) => lineTypeRecord(name, '', [], 0x30 + index));
  const own = (Object.keys(DASHES_PX) as LineTypeName[]).map((name, index) =>
    lineTypeRecord(dxfLineType(name), WORDS_OF_LINE_TYPES[name], printDashesMm(name), 0x32 + index),
  );
  return [...fixed, ...own];
}

const WORDS_OF_LINE_TYPES: Readonly<Record<LineTypeName, string>> = {
  CONTINUOUS: 'Continuous',
  DASHED: 'Dashed __ __ __',
  CENTRE: 'Long dash, dot ____ _ ____',
  PHANTOM: 'Long dash, two dots ____ _ _ ____',
};

function lineTypeRecord(
  name: string,
  words: string,
  dashesMm: readonly number[],
  handle: number,
): readonly DxfTag[] {
  const totalMm = dashesMm.reduce((sum, dash) => sum + dash, 0);
  const elements = dashesMm.flatMap(
    (dash, index) =>
      [
        [49, index % 2 === 0 ? dash : -dash],
        [74, 0],
      ] as const,
  );
  return record('LTYPE', handle.toString(16).toUpperCase(), '2', 'AcDbLinetypeTableRecord', name, [
    [70, 0],
    [3, words],
    [72, 65],
    [73, dashesMm.length],
    [40, totalMm],
    ...elements,
  ]);
}

function layers(): readonly (readonly DxfTag[])[] {
  const zero = layerRecord('0', 7, 'Continuous', 25, 0x40);
  const own = LAYER_NAMES.map((name, index) => {
    const { lineType, printMm } = LAYERS[name];
    const colour = GREY_LAYERS.has(name) ? 8 : 7;
    return layerRecord(name, colour, dxfLineType(lineType), dxfLineWidth(printMm ?? 0), 0x41 + index);
  });
  return [zero, ...own];
}

function layerRecord(
  name: string,
  colour: number,
  lineType: string,
  width: number,
  handle: number,
): readonly DxfTag[] {
  return record('LAYER', handle.toString(16).toUpperCase(), '3', 'AcDbLayerTableRecord', name, [
    [70, 0],
    [62, colour],
    [6, lineType],
    [370, width],
  ]);
}

function textStyle(): readonly DxfTag[] {
  return record('STYLE', '1B', '4', 'AcDbTextStyleTableRecord', 'Standard', [
    [70, 0],
    [40, 0],
    [41, 1],
    [50, 0],
    [71, 0],
    [42, 3],
    [3, 'txt'],
    [4, ''],
  ]);
}

function dimensionStyle(): readonly DxfTag[] {
  return record('DIMSTYLE', '1C', '8', 'AcDbDimStyleTableRecord', 'Standard', [[70, 0]]);
}

/** The two empty blocks that stand for model and paper. */
export function blocksTags(): readonly DxfTag[] {
  return [
    ...section('BLOCKS'),
    ...block('*Model_Space', MODEL_SPACE_HANDLE, '21', '22', []),
    ...block('*Paper_Space', '24', '25', '26', [[67, 1]]),
    [0, 'ENDSEC'],
  ];
}

function block(
  name: string,
  owner: string,
  handle: string,
  endHandle: string,
  space: readonly DxfTag[],
): readonly DxfTag[] {
  const entity = [[100, 'AcDbEntity'], ...space, [8, '0']] as const;
  return [
    [0, 'BLOCK'],
    [5, handle],
    [330, owner],
    ...entity,
    [100, 'AcDbBlockBegin'],
    [2, name],
    [70, 0],
    ...point(0, 0),
    [3, name],
    [1, ''],
    [0, 'ENDBLK'],
    [5, endHandle],
    [330, owner],
    ...entity,
    [100, 'AcDbBlockEnd'],
  ];
}

/** The root dictionary with the one group list that readers ask for. */
export function objectsTags(): readonly DxfTag[] {
  return [
    ...section('OBJECTS'),
    [0, 'DICTIONARY'],
    [5, 'A'],
    [330, '0'],
    [100, 'AcDbDictionary'],
    [281, 1],
    [3, 'ACAD_GROUP'],
    [350, 'B'],
    [0, 'DICTIONARY'],
    [5, 'B'],
    [330, 'A'],
    [100, 'AcDbDictionary'],
    [281, 1],
    [0, 'ENDSEC'],
  ];
}
