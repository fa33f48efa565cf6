import type { JSX } from 'preact';
import { useId } from 'preact/hooks';

type FilePickProps = {
  readonly onFile: (file: File) => Promise<void>;
  /** Several may be picked at once, and are told one after the other. */
  readonly many?: boolean;
};

/** A table out of a file, picked by hand. */
export function FilePick({ onFile, many = false }: FilePickProps): JSX.Element {
  const id = useId();
  return (
    <div class="field drop">
      <label for={id}>
        {many
          ? 'Tables from files: CSV, TSV or text. Pick them, or drop them here.'
          : 'A table from a file: CSV, TSV or text. Pick it, or drop it here.'}
      </label>
      <input
        id={id}
        type="file"
        multiple={many}
        accept=".csv,.tsv,.txt,.tab,.dat,text/*"
        onChange={(event) => {
          void oneByOne([...(event.currentTarget.files ?? [])], onFile);
          // The same file, mended, can be picked again.
          event.currentTarget.value = '';
        }}
      />
    </div>
  );
}

/** Each file after the one before it, however long that took to read. */
export async function oneByOne(files: readonly File[], onFile: (file: File) => Promise<void>): Promise<void> {
  for (const file of files) await onFile(file);
}
