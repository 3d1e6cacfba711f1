/** Hands a text or a picture to the reader as a file. */
export function saveFile(name: string, content: Blob | string): void {
  const blob =
    typeof content === "string" ? new Blob([content], { type: "text/yaml;charset=utf-8" }) : content;
  const address = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken the blob when the click returns; the address is let go a little later for slow devices.
  setTimeout(() => {
    URL.revokeObjectURL(address);
  }, 10_000);
}
