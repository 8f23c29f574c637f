"""A relay on loopback between stations and a server's socket, a process of its own, so that a test can stop it (what is
sent vanishes) or kill it (lines are cut).

    python3 tests/group/relay.py PORT SOCKET     prints the port it listens on; 0 takes any
"""
import asyncio
import pathlib
import signal
import subprocess
import sys


class Relay:
    """`with Relay(socket) as relay:` carries bytes between 127.0.0.1:relay.port and the socket."""

    def __init__(self, socket):
        self.socket, self.port, self.process = socket, 0, None

    def start(self):
        self.process = subprocess.Popen([sys.executable, "-B", str(pathlib.Path(__file__)), str(self.port), str(self.socket)],
                                        stdout=subprocess.PIPE, text=True)
        self.port = int(self.process.stdout.readline())
        return self

    def stop(self):
        self.process.send_signal(signal.SIGSTOP)

    def go_on(self):
        self.process.send_signal(signal.SIGCONT)

    def kill(self):
        self.process.kill()
        self.process.wait()
        self.process.stdout.close()

    def __enter__(self):
        return self.start()

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.kill()


async def carry(reader, writer):
    try:
        while data := await reader.read(65536):
            writer.write(data)
            await writer.drain()
    except OSError:
        pass
    finally:
        writer.close()


async def serve(port, socket):
    async def meet(reader, writer):
        try:
            other_reader, other_writer = await asyncio.open_unix_connection(socket)
        except OSError:
            writer.close()
            return
        await asyncio.gather(carry(reader, other_writer), carry(other_reader, writer))

    server = await asyncio.start_server(meet, "127.0.0.1", port)
    print(server.sockets[0].getsockname()[1], flush=True)
    await server.serve_forever()


if __name__ == "__main__":
    asyncio.run(serve(int(sys.argv[1]), sys.argv[2]))
