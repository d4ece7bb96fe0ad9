// Verifies the signature of a handwheel-record/1 file with a library that knows nothing of Handwheel.
import { readFileSync } from "node:fs";
import { compactVerify, decodeProtectedHeader, importX509 } from "jose";

const record = JSON.parse(readFileSync(process.argv[2], "utf8"));
const { alg, x5c } = decodeProtectedHeader(record.signature);
const pem = `-----BEGIN CERTIFICATE-----\n${x5c[0].match(/.{1,64}/g).join("\n")}\n-----END CERTIFICATE-----\n`;
try {
    const { payload } = await compactVerify(record.signature, await importX509(pem, alg), { algorithms: ["ES256"] });
    const signed = JSON.parse(new TextDecoder().decode(payload));
    const same = signed.log === record.log && signed.content === record.content
        && signed.head.hash === record.head.hash && signed.head.number === record.head.number;
    console.log(`${alg} verified; the signed head is ${same ? "" : "not "}the record's: entry ${signed.head.number} ${signed.head.hash}`);
    process.exitCode = same ? 0 : 1;
} catch (fault) {
    console.log(`not verified: ${fault.code ?? fault.message}`);
    process.exitCode = 1;
}
