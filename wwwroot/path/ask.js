// Questions to the server, with its refusal in words.

/** Throws with the server's words. */
export async function fetchBytes(address) {
    const answer = await fetch(address);
    if (!answer.ok)
        throw new Error(await refusal(answer));
    return answer.arrayBuffer();
}

/** What it answers, or { refused: why }. */
export async function ask(address) {
    try {
        const answer = await fetch(address);
        return answer.ok ? await answer.json() : { refused: await refusal(answer) };
    } catch {
        return { refused: "The server does not answer. What is on this page stays; try again when it is back." };
    }
}

async function refusal(answer) {
    try {
        return (await answer.json()).detail;
    } catch {
        return `the server answered ${answer.status}.`;
    }
}
