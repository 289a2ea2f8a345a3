/** Files that the system hands to the installed page: opened as one that is dropped, and saved where they came from. */
import { type ChosenFile, refuseFile } from '../../state/boardFile';
import { takeFile } from '../../state/drops';

/** A file of the system's, as the File System standard's handle (WHATWG) has it. */
interface Launched extends ChosenFile {
  getFile(): Promise<File>;
}
type LaunchQueue = { setConsumer(take: (launch: { readonly files: readonly Launched[] }) => void): void };

/** Takes the files that the page was opened with, and those that are opened while it is there (WICG, Web App Launch Handler API). */
export function startLaunches(): void {
  (window as { launchQueue?: LaunchQueue }).launchQueue?.setConsumer(({ files: [handle] }) => {
    // One page shows one board: of several files each comes by itself (`launch_type` in the manifest).
    void handle?.getFile().then((file) => takeFile(file, handle), () => refuseFile(handle.name, [{ field: '', value: handle.name, allowed: 'a file still there', message: 'it cannot be read' }]));
  });
}
