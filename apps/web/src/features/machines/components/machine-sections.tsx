'use client';

import {
  createContext,
  startTransition,
  useCallback,
  useContext,
  useDeferredValue,
  useLayoutEffect,
  useMemo,
  useState,
  useSyncExternalStore,
  type MouseEvent,
  type ReactNode,
} from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { keepOpenSections, readOpenSections, type OpenSections } from '@/lib/preferences/open-sections';
import { useSession } from '@/lib/session/session';
import { FoldProvider, type Fold } from '@/ui/fold';
import styles from './machine-sections.module.css';

/** In the order of the page. */
const SECTIONS = [
  'ladder',
  'checks',
  'issues',
  'settings',
  'counts',
  'plant',
  'components',
  'fixtures',
  'sizing',
  'events',
] as const;
export type SectionId = (typeof SECTIONS)[number];

interface Sections {
  /** those that the machine has */
  present: readonly SectionId[];
  isOpen: (id: SectionId) => boolean;
  /** open by itself, unless there is room for one column alone */
  isByWidth: (id: SectionId) => boolean;
  setOpen: (id: SectionId, isOpen: boolean) => void;
  setAll: (isOpen: boolean) => void;
  jump: (id: SectionId) => void;
  announce: (id: string) => () => void;
}

const SectionsContext = createContext<Sections | null>(null);

export function useSections(): Sections {
  const sections = useContext(SectionsContext);
  if (sections === null) throw new Error('useSections needs MachineSections above it');
  return sections;
}

/** Where one column is all there is room for, only the pressure ladder is open from the start. */
const NARROW = '(max-width: 640px)';

function subscribeWidth(notify: () => void): () => void {
  const list = window.matchMedia(NARROW);
  list.addEventListener('change', notify);
  return () => list.removeEventListener('change', notify);
}

const useNarrow = (): boolean =>
  useSyncExternalStore(
    subscribeWidth,
    () => window.matchMedia(NARROW).matches,
    () => false,
  );

/** Once what was opened is drawn: there, with the keyboard at its heading. */
function showSection(id: SectionId): void {
  requestAnimationFrame(() => {
    const section = document.getElementById(id);
    section?.scrollIntoView();
    section?.querySelector<HTMLElement>('h2 button')?.focus({ preventScroll: true });
  });
}

const isEmpty = (sections: OpenSections): boolean => Object.keys(sections).length === 0;

/**
 * Which sections of the machine page are there, and which are open: as the person left them, on any machine.
 * @param expected those that will be there, as long as none has said so: the page does not move when they do
 */
export function MachineSections({ expected, children }: { expected: readonly SectionId[]; children: ReactNode }) {
  const { userId } = useSession().me;
  // How a page looks that knows no width is right in either: it is learned when there is time.
  const isNarrow = useDeferredValue(useNarrow());
  const [chosen, setChosen] = useState<OpenSections>({});
  // The server, which draws the page first, knows nothing of it.
  useLayoutEffect(() => {
    const kept = readOpenSections(localStorage, userId);
    setChosen((before) => (isEmpty(before) && isEmpty(kept) ? before : kept));
  }, [userId]);
  const [announced, setAnnounced] = useState<readonly SectionId[]>([]);
  const present = announced.length === 0 ? expected : announced;
  const choose = useCallback(
    (changes: Readonly<Record<string, boolean>>) => {
      const next = { ...readOpenSections(localStorage, userId), ...changes };
      keepOpenSections(localStorage, userId, next);
      setChosen((before) => ({ ...before, ...next }));
    },
    [userId],
  );
  const announce = useCallback(
    (name: string) => {
      const id = SECTIONS.find((candidate) => candidate === name);
      if (id === undefined) return () => undefined;
      // As a rule they are those that were expected: nobody waits for it.
      startTransition(() =>
        setAnnounced((before) => SECTIONS.filter((candidate) => candidate === id || before.includes(candidate))),
      );
      // A link from elsewhere names the section that it means.
      if (window.location.hash === `#${id}`) {
        choose({ [id]: true });
        showSection(id);
      }
      return () => setAnnounced((before) => before.filter((candidate) => candidate !== id));
    },
    [choose],
  );
  const sections = useMemo<Sections>(
    () => ({
      present,
      isOpen: (id) => chosen[id] ?? (!isNarrow || id === 'ladder'),
      isByWidth: (id) => chosen[id] === undefined && id !== 'ladder',
      setOpen: (id, isOpen) => choose({ [id]: isOpen }),
      setAll: (isOpen) => choose(Object.fromEntries(SECTIONS.map((id) => [id, isOpen]))),
      jump: (id) => {
        choose({ [id]: true });
        showSection(id);
      },
      announce,
    }),
    [present, chosen, isNarrow, choose, announce],
  );
  return <SectionsContext.Provider value={sections}>{children}</SectionsContext.Provider>;
}

/** The panel in it can be closed, and jumped to. */
export function Section({ id, children }: { id: SectionId; children: ReactNode }) {
  const { isOpen: isOpenNow, isByWidth: isByWidthNow, setOpen, announce } = useSections();
  const [isOpen, isByWidth] = [isOpenNow(id), isByWidthNow(id)];
  const fold = useMemo<Fold>(
    () => ({ id, isOpen, isByWidth, setOpen: (next) => setOpen(id, next), announce }),
    [id, isOpen, isByWidth, setOpen, announce],
  );
  return <FoldProvider value={fold}>{children}</FoldProvider>;
}

/** Stays at the top while one reads: every section of the page, one press away. */
export function SectionBar() {
  const t = useTranslate();
  const { present, isOpen, setAll, jump } = useSections();
  if (present.length < 2) return null;
  const areAllOpen = present.every(isOpen);
  const follow = (event: MouseEvent, id: SectionId): void => {
    if (event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    jump(id);
  };
  return (
    <nav className={styles['bar']} aria-label={t('machine.sections')}>
      <ul>
        {present.map((id) => (
          <li key={id}>
            <a href={`#${id}`} onClick={(event) => follow(event, id)}>
              {t(`machine.section.${id}`)}
            </a>
          </li>
        ))}
        <li>
          <button type="button" onClick={() => setAll(!areAllOpen)}>
            {t(areAllOpen ? 'machine.sections.closeAll' : 'machine.sections.openAll')}
          </button>
        </li>
      </ul>
    </nav>
  );
}
