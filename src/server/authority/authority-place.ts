import path from 'node:path';

/** File of the workshop's authority, key and certificate, in a data folder. In no backup and no export. */
export const authorityFile = (dataFolder: string): string =>
  path.join(dataFolder, 'authority', 'authority.pem');

/** File of the certificate of the https door and its key. Can be made anew at any time. */
export const doorFile = (dataFolder: string): string => path.join(dataFolder, 'authority', 'door.pem');
