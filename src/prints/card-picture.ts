import type { BoundsMm, Entity } from '../drawing/model.ts';
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
 * @source      plane-geometry
 */
export function pictureEntities(picture: Picture, room: BoundsMm): readonly Entity[] {
  switch (picture.kind) {
    case 'ring':
      return ringPicture(picture, room);
    case 'reach':
      return reachPicture(picture, room);
    case 'slots':
      return slotsPicture(picture, room);
    case 'passes':
      return passesPicture(picture, room);
    case 'wedge':
      return wedgePicture(picture, room);
    case 'ledge':
      return ledgePicture(picture, room);
    case 'groove':
      return groovePicture(picture, room);
    case 'dome':
      return domePicture(picture, room);
    case 'former':
      return formerPicture(picture, room);
    case 'saddle':
      return saddlePicture(picture, room);
    case 'holes':
      return holesPicture(picture, room);
    case 'stay-off':
      return stayOffPicture(picture, room);
    case 'taper':
      return taperPicture(picture, room);
    case 'pilot':
      return pilotPicture(picture, room);
    case 'frame':
      return framePicture(picture, room);
    case 'neck-side':
      return neckSidePicture(picture, room);
  }
}
