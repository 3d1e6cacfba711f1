import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, truncateSync, writeFileSync, writeSync, openSync, closeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const run = (command: string, ...options: string[]) =>
  execFileSync(command, options, { stdio: ["ignore", "ignore", "pipe"] });

/** Whether this process may mount; without that there is no disk here that a test may fill or break. */
export function mayMount(): boolean {
  const folder = mkdtempSync(join(tmpdir(), "may-mount-"));
  try {
    run("mount", "-t", "tmpfs", "-o", "size=64k", "may-mount", folder);
    run("umount", folder);
    return true;
  } catch {
    return false;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** A disk in memory that is soon full. */
export function smallDisk(megabytes: number) {
  const folder = mkdtempSync(join(tmpdir(), "small-disk-"));
  run("mount", "-t", "tmpfs", "-o", `size=${megabytes}m`, "small-disk", folder);
  const filler = join(folder, "filler");
  return {
    folder,
    fill: () => {
      const file = openSync(filler, "w");
      // In smaller and smaller pieces, to the last byte.
      for (let size = 2 ** 20; size >= 1; size /= 2) {
        try {
          for (;;) if (writeSync(file, Buffer.alloc(size)) < size) break;
        } catch (error) {
          if ((error as NodeJS.ErrnoException).code !== "ENOSPC") throw error;
        }
      }
      closeSync(file);
    },
    makeRoom: () => {
      rmSync(filler);
    },
    remove: () => {
      run("umount", folder);
      rmSync(folder, { recursive: true });
    },
  };
}

/** A disk with ext4 that can be made to fail, and be mended. */
export function frailDisk(megabytes: number) {
  const around = mkdtempSync(join(tmpdir(), "frail-disk-"));
  const [image, folder] = [join(around, "image"), mkdtempSync(join(around, "disk-"))];
  writeFileSync(image, "");
  truncateSync(image, megabytes * 2 ** 20);
  run("mkfs.ext4", "-q", image);
  const mount = (): void => {
    run("mount", "-o", "loop", image, folder);
  };
  mount();
  return {
    folder,
    /** From now on it can be read and not written, whatever has files open on it. */
    fail: () => {
      run("mount", "-o", "remount,abort", folder);
    },
    mend: () => {
      run("umount", folder);
      try {
        run("e2fsck", "-f", "-y", image);
      } catch (error) {
        // 1: errors were found and corrected.
        if ((error as { readonly status?: unknown }).status !== 1) throw error;
      }
      mount();
    },
    remove: () => {
      run("umount", folder);
      rmSync(around, { recursive: true });
    },
  };
}
