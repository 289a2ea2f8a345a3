/** A button that lets a file be picked from this machine. */
import { useRef } from 'react';

interface FilePickProps {
  readonly label: string;
  /** Kinds of file offered, as the platform's file field takes them. */
  readonly accept: string;
  readonly name: string;
  readonly className?: string;
  readonly onFile: (file: File) => void;
}

export function FilePick({ label, accept, name, className, onFile }: FilePickProps) {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" className={className} onClick={() => picker.current?.click()}>{label}</button>
      <input
        ref={picker} type="file" hidden accept={accept} data-testid={name}
        onChange={(event) => {
          const file = event.target.files?.[0];
          // Emptied, so that the same file can be picked twice.
          event.target.value = '';
          if (file) onFile(file);
        }}
      />
    </>
  );
}
