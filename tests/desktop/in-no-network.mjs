// unshare -n node in-no-network.mjs SOCKET PROGRAM [arguments]: runs a program where no address but this machine's own can be
// reached. SOCKET (a file) leads to the program's debugging port, which nobody outside could reach. At the end it prints how
// often something was to be sent that had no way out, as the system counted it ("OutNoRoutes", Linux, /proc/net/snmp; RFC 4293,
// ipSystemStatsOutNoRoutes).
import { execFileSync, spawn } from 'node:child_process'
import { readFileSync } from 'node:fs'
import net from 'node:net'

const [socket, program, ...args] = process.argv.slice(2)
execFileSync('ip', ['link', 'set', 'lo', 'up'])
const child = spawn(program, args, { stdio: ['ignore', 'inherit', 'pipe'] })
let port
child.stderr.on('data', (chunk) => {
  port ??= /DevTools listening on ws:\/\/127\.0\.0\.1:(\d+)/.exec(String(chunk))?.[1]
  process.stderr.write(chunk)
})
const server = net.createServer((outer) => {
  const inner = net.connect(Number(port), '127.0.0.1')
  outer.pipe(inner).pipe(outer)
  for (const end of [outer, inner]) end.on('error', () => end.destroy())
})
server.listen(socket)
child.once('exit', (code) => {
  const [names, values] = readFileSync('/proc/net/snmp', 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('Ip:'))
    .map((line) => line.split(' '))
  const of4 = Number(values[names.indexOf('OutNoRoutes')])
  const of6 = Number(/^Ip6OutNoRoutes\s+(\d+)/m.exec(readFileSync('/proc/net/snmp6', 'utf8'))[1])
  process.stderr.write(`\nno way out for: ${of4 + of6}\n`)
  process.exit(code ?? 1)
})
