// How each call can fail, and by which function where not by all. Codes of errno(3); "-half" and "-after" fail when a part or all is done.
const all = (...faults) => faults.map((fault) => ({ fault }));

export const FAULTS = {
  open: all('ENOENT', 'EACCES', 'EMFILE', 'EIO', 'EROFS', 'ENOSPC'),
  read: [...all('EIO', 'EISDIR'), ...['short', 'nothing'].map((fault) => ({ fault, only: ['readSync'] }))],
  write: [
    ...all('ENOSPC-half', 'ENOSPC', 'EIO', 'EIO-after', 'EDQUOT-half', 'EFBIG', 'short'),
    { fault: 'nothing', only: ['writeSync'] },
  ],
  sync: all('EIO', 'EIO-after', 'ENOSPC', 'EROFS'),
  cut: all('EIO', 'EIO-after', 'EACCES'),
  close: all('EIO', 'ENOSPC'),
  look: all('EACCES', 'ENOENT', 'EIO'),
  list: all('EACCES', 'EMFILE', 'EIO'),
  link: all('EPERM', 'EACCES', 'ENOSPC', 'EMLINK', 'EEXIST', 'EIO-after', 'ENOENT'),
  unlink: all('EACCES', 'EIO', 'ENOENT', 'EROFS'),
  rename: all('EACCES', 'ENOSPC', 'EIO', 'EXDEV'),
  folder: all('EACCES', 'ENOSPC', 'EROFS', 'EEXIST'),
  say: all('EPIPE', 'ENOSPC', 'EIO', 'EBADF'),
};
