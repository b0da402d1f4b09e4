import type { BoundsMm, Entity } from '../drawing/model.ts';
import type { Sizes } from '../quantity/print-length.ts';
import type { Picture } from '../settings/picture.ts';
import { passesPicture, slotsPicture } from './list-pictures.ts';
import {
  domePicture,
  formerPicture,
  framePicture,
  groovePicture,
  holesPicture,
  ledgePicture,
  neckSidePicture,
  saddlePicture,
  stayOffPicture,
  taperPicture,
  wedgePicture,
} from './part-pictures.ts';
import { pilotPicture, reachPicture, ringPicture } from './ring-picture.ts';

/**
 * The picture of a setting in its room on the card.
 *
 * @param room  place on the card, mm
 * @param size  lengths in the unit of the shop
 * @source      plane-geometry
 */
export function pictureEntities(picture: Picture, room: BoundsMm, size: Sizes): readonly Entity[] {
  switch (picture.kind) {
    case 'ring':
      return ringPicture(picture, room, size);
    case 'reach':
      return reachPicture(picture, room, size);
    case 'slots':
      return slotsPicture(picture, room, size);
    case 'passes':
      return passesPicture(picture, room);
    case 'wedge':
      return wedgePicture(picture, room, size);
    case 'ledge':
      return ledgePicture(picture, room, size);
    case 'groove':
      return groovePicture(picture, room, size);
    case 'dome':
      return domePicture(picture, room, size);
    case 'former':
      return formerPicture(picture, room, size);
    case 'saddle':
      return saddlePicture(picture, room, size);
    case 'holes':
      return holesPicture(picture, room, size);
    case 'stay-off':
      return stayOffPicture(picture, room, size);
    case 'taper':
      return taperPicture(picture, room, size);
    case 'pilot':
      return pilotPicture(picture, room, size);
    case 'frame':
      return framePicture(picture, room, size);
    case 'neck-side':
      return neckSidePicture(picture, room, size);
  }
}
