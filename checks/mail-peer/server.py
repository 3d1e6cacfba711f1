"""A mail server that behaves by script: what it does to a message depends on the name before the @ of the recipient.

grey     451 at the first attempt, taken at the second
nobody   550 5.1.1, always
returns  550 5.1.1 at the first attempt, taken at the second
relay    550 5.7.1 relaying denied, always
busy     452 after the message, always
spam     554 5.6.0 after the message, always
drop     cuts the connection in the middle of the message at the first attempt, takes it at the second
slow     answers the message only after the time given
else     taken

Prints its port as the first line, then one JSON object a line for each message taken.
Usage: server.py [--cert FILE --key FILE [--implicit-tls | --starttls-only]] [--user NAME --password WORD] [--slow SECONDS]
"""

import argparse
import asyncio
import base64
import json
import ssl
import sys

from aiosmtpd.smtp import SMTP, AuthResult, LoginPassword


def parse():
    parser = argparse.ArgumentParser()
    parser.add_argument("--cert")
    parser.add_argument("--key")
    parser.add_argument("--implicit-tls", action="store_true")
    parser.add_argument("--starttls-only", action="store_true")
    parser.add_argument("--user")
    parser.add_argument("--password")
    parser.add_argument("--slow", type=float, default=0)
    return parser.parse_args()


seen = {}


def attempt(address):
    seen[address] = seen.get(address, 0) + 1
    return seen[address]


class Script:
    def __init__(self, slow):
        self.slow = slow

    async def handle_RCPT(self, server, session, envelope, address, options):
        name = address.split("@")[0]
        if name == "nobody" or (name == "returns" and attempt(address) == 1):
            return "550 5.1.1 No mailbox of that name"
        if name == "relay":
            return "550 5.7.1 Relaying denied"
        if name == "grey" and attempt(address) == 1:
            return "451 4.7.1 Come again in a while"
        envelope.rcpt_tos.append(address)
        return "250 2.1.5 OK"

    async def handle_DATA(self, server, session, envelope):
        names = [address.split("@")[0] for address in envelope.rcpt_tos]
        if "busy" in names:
            return "452 4.3.1 No room left today"
        if "spam" in names:
            return "554 5.6.0 Content not taken"
        if "slow" in names:
            await asyncio.sleep(self.slow)
        taken = {
            "from": envelope.mail_from,
            "to": envelope.rcpt_tos,
            "tls": session.ssl is not None,
            "login": session.auth_data.decode() if session.auth_data else None,
            "message": base64.b64encode(envelope.original_content).decode(),
        }
        print(json.dumps(taken), flush=True)
        return "250 2.0.0 Taken"


class Server(SMTP):
    async def smtp_DATA(self, arg):
        address = self.envelope.rcpt_tos[0] if self.envelope.rcpt_tos else ""
        if address.startswith("drop@") and attempt(address) == 1:
            await self.push("354 go on")
            await self._reader.readline()
            self.transport.abort()
            return
        await super().smtp_DATA(arg)


async def main():
    args = parse()
    context = None
    if args.cert:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(args.cert, args.key)

    def check(server, session, envelope, mechanism, data):
        good = (
            isinstance(data, LoginPassword)
            and data.login.decode() == args.user
            and data.password.decode() == args.password
        )
        return AuthResult(success=good, auth_data=data.login if good else None, handled=False)

    def session():
        return Server(
            Script(args.slow),
            hostname="mail.example",
            tls_context=None if args.implicit_tls else context,
            require_starttls=args.starttls_only,
            authenticator=check if args.user else None,
            auth_required=bool(args.user),
            auth_require_tls=bool(args.user) and not args.implicit_tls,
        )

    server = await asyncio.get_running_loop().create_server(
        session, "127.0.0.1", 0, ssl=context if args.implicit_tls else None
    )
    print(server.sockets[0].getsockname()[1], flush=True)
    await server.serve_forever()


try:
    asyncio.run(main())
except KeyboardInterrupt:
    sys.exit(0)
