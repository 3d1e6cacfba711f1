import { useEffect, useId, useState } from "react";
import { instantWords } from "../desk/instant.ts";
import type { KeptPhoto, KeptVisit } from "../keep/kept.ts";
import { standingPhotos } from "../keep/kept-entries.ts";
import { useDesk, useKept } from "../keep/use-desk.ts";
import { saveFile } from "../page/save-file.ts";
import { useWork } from "../page/use-work.tsx";
import { dropPhoto } from "./change-visit.ts";
import type { ChangeVisit } from "./use-visit.ts";

interface PhotosProps {
  readonly kept: KeptVisit;
  readonly change: ChangeVisit;
}

/** Photos of a visit: kept on this device as they are, with the instant they were added, and handed over with it. */
export function Photos({ kept, change }: PhotosProps) {
  const visit = kept.id;
  const desk = useDesk();
  const { start, failure } = useWork();
  const id = useId();
  const photos = standingPhotos(kept, useKept((from) => from.photos.of(visit), visit) ?? []);
  const add = async (files: FileList | null): Promise<void> => {
    for (const file of files ?? [])
      await desk.photos.keep({
        id: crypto.randomUUID(),
        visit,
        taken: new Date().toISOString(),
        name: file.name,
        image: file,
        sent: false,
      });
  };
  return (
    <section className={photos.length === 0 ? "flow controls" : "flow"} aria-label="Photos">
      <h2>Photos</h2>
      <label className="field controls" htmlFor={id}>
        <span>Add a photo</span>
        <span className="hint">of the place found, the connector, the label of the instrument</span>
      </label>
      <input
        id={id}
        type="file"
        accept="image/*"
        capture="environment"
        multiple
        onChange={(event) => {
          start(add(event.currentTarget.files));
        }}
      />
      {failure}
      <ul className="plain photos">
        {photos.map((photo) => (
          <Photo
            key={photo.id}
            photo={photo}
            remove={() => {
              // What was handed over stays on record as taken away; what was not is simply gone.
              if (kept.place === null) start(desk.photos.remove(photo.id));
              else change((now) => dropPhoto(now, photo.id, new Date().toISOString()));
            }}
          />
        ))}
      </ul>
    </section>
  );
}

function Photo({ photo, remove }: { readonly photo: KeptPhoto; readonly remove: () => void }) {
  const [address, setAddress] = useState("");
  useEffect(() => {
    const made = URL.createObjectURL(photo.image);
    setAddress(made);
    return () => {
      URL.revokeObjectURL(made);
    };
  }, [photo.image]);
  const when = instantWords(Date.parse(photo.taken));
  return (
    <li>
      {address === "" ? null : <img src={address} alt={`Photo ${photo.name}, added ${when}`} />}
      <span className="small soft">{when}</span>
      <button
        type="button"
        className="word small"
        onClick={() => {
          saveFile(photo.name, photo.image);
        }}
      >
        Save
      </button>
      <button type="button" className="word small" onClick={remove}>
        Remove
      </button>
    </li>
  );
}
