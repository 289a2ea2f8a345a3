/** What went wrong, and what was noticed: a file that was not opened, changes that are not kept, a newer version. */
import { lazy, Suspense } from 'react';
import { useFile } from '../state/boardFile';
import { guarded, useKeep } from '../state/keep';
import { UpdateNotice } from './offline/UpdateNotice';

// Seldom needed: each is fetched with its first.
const FileNoticeOpen = lazy(async () => ({ default: (await import('./FileNoticeOpen')).FileNoticeOpen }));

const KeepNoticeOpen = lazy(async () => ({ default: (await import('./KeepNoticeOpen')).KeepNoticeOpen }));

function FileNotice() {
  const { refused, notes } = useFile();
  return !refused && notes.length === 0 ? null : <Suspense><FileNoticeOpen /></Suspense>;
}

function KeepNotice() {
  const { status, copyOf, unread } = useKeep();
  return status === 'failed' || unread || copyOf !== null || !guarded() ? <Suspense><KeepNoticeOpen /></Suspense> : null;
}

export function Notices() {
  return (
    <>
      <FileNotice />
      <KeepNotice />
      <UpdateNotice />
    </>
  );
}
