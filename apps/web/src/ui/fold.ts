'use client';

import { createContext, useContext } from 'react';

/** A section that can be closed: its panel's heading then opens and closes it. */
export interface Fold {
  id: string;
  isOpen: boolean;
  /** it is open only where there is room: the server, which draws first, does not know whether there is */
  isByWidth: boolean;
  setOpen: (isOpen: boolean) => void;
  /** says that its panel is there; what is returned says that it went */
  announce: (id: string) => () => void;
}

const FoldContext = createContext<Fold | null>(null);
export const FoldProvider = FoldContext.Provider;

/** null outside any section: the panel is always open */
export const useFold = (): Fold | null => useContext(FoldContext);
