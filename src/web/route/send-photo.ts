/** Sends a picture or clip; gives its hash, or the sentence why it was not taken. */
export async function sendPhoto(
  stream: string,
  file: Blob,
): Promise<{ readonly hash: string; readonly type: string } | { readonly message: string }> {
  try {
    const response = await fetch(`/api/files/${encodeURIComponent(stream)}`, {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: file,
    });
    const body = (await response.json()) as { hash?: string; type?: string; message?: string };
    if (response.ok && body.hash && body.type) return { hash: body.hash, type: body.type };
    return { message: body.message ?? 'The picture was not taken.' };
  } catch {
    return {
      message:
        'The picture was not sent: the server cannot be reached just now. Try again when the network is back.',
    };
  }
}
