import { project, toCamera, turnToCamera } from './camera.ts'
import type { Camera } from './camera.ts'
import { shadowOf, toSun } from './figure.ts'
import type { Colour, Volume } from './figure.ts'
import { dot } from './vector.ts'
import type { Vec3 } from './vector.ts'

/** Samples per pixel edge for the figure. */
const sampling = 2
const shadowCellM = 0.02
const shadowMin: readonly [number, number] = [-2.2, -2.6]
const shadowCells: readonly [number, number] = [230, 190]

/** A smooth pattern of blotches, 0 to 1, same for same place. */
const blotches = (x: number, y: number): number => {
  const corner = (i: number, k: number): number => {
    const s = Math.sin(i * 127.1 + k * 311.7) * 43758.5453
    return s - Math.floor(s)
  }
  const i = Math.floor(x)
  const k = Math.floor(y)
  const fx = (x - i) ** 2 * (3 - 2 * (x - i))
  const fy = (y - k) ** 2 * (3 - 2 * (y - k))
  const top = corner(i, k) + (corner(i + 1, k) - corner(i, k)) * fx
  const low = corner(i, k + 1) + (corner(i + 1, k + 1) - corner(i, k + 1)) * fx
  return top + (low - top) * fy
}

const groundColour = (x: number, z: number): Colour => {
  const inMat = x > -1.0 && x < 1.05 && z > -1.75 && z < 0.42
  if (inMat) {
    const edge = x < -0.96 || x > 1.01 || z < -1.71 || z > 0.38
    if (edge) return [0.13, 0.17, 0.15]
    if (Math.abs(z - 0.3) < 0.006) return [0.85, 0.87, 0.82]
    const g = 0.04 * blotches(x * 22, z * 22)
    const strip = z > -0.22 && z < 0.22 ? 0.05 : 0
    return [0.17 + g + strip * 0.4, 0.39 + g + strip, 0.25 + g + strip * 0.4]
  }
  const pad = x > -4.6 && x < 1.35 && z > -3.4 && z < 3.4
  if (pad) {
    const joint = Math.abs(x + 1.6) < 0.012 || Math.abs(z + 2.35) < 0.012 || Math.abs(z - 1.3) < 0.012
    const g = 0.035 * blotches(x * 9, z * 9)
    return joint ? [0.46, 0.45, 0.44] : [0.6 + g, 0.59 + g, 0.57 + g]
  }
  const far = Math.min(1, Math.hypot(x, z) / 160)
  const stripe = Math.floor(x / 7) % 2 === 0 ? 0.025 : 0
  const g = 0.05 * blotches(x * 0.6, z * 0.6)
  // White distance lines across the range every 45 m.
  if (x > 20 && Math.abs((x % 45) - 22) < 0.5) return [0.75, 0.8, 0.72]
  return [0.35 + g + stripe + far * 0.12, 0.55 + g + stripe + far * 0.08, 0.25 + g + far * 0.18]
}

const skyColour = (direction: Vec3): Colour => {
  const azimuth = Math.atan2(direction[2], direction[0])
  const height = direction[1] / Math.hypot(direction[0], direction[2])
  const trees =
    0.05 +
    0.022 * blotches(azimuth * 9, 1) +
    0.016 * blotches(azimuth * 31, 2) +
    0.008 * blotches(azimuth * 90, 3)
  if (height < trees) {
    const g = 0.05 * blotches(azimuth * 60, height * 90)
    return [0.22 + g, 0.34 + g, 0.23 + g]
  }
  const up = Math.min(1, height * 1.6)
  return [0.82 - 0.34 * up, 0.89 - 0.2 * up, 0.95 - 0.05 * up]
}

/** Draws frames for one fixed camera: background once, then figure, club, ball and their shadows per frame. */
export class Painter {
  readonly camera: Camera
  private readonly background: Float32Array
  private readonly backgroundBytes: Buffer
  /** Pixels that show ground near enough for a shadow to fall on. */
  private readonly shadowable: Int32Array
  private readonly groundX: Float32Array
  private readonly groundZ: Float32Array
  private readonly depth: Float32Array
  private readonly red: Float32Array
  private readonly green: Float32Array
  private readonly blue: Float32Array
  private readonly blurDepth: Float32Array
  private readonly blur: Float32Array
  private readonly sample: Float32Array
  private readonly shadow = new Float32Array(shadowCells[0] * shadowCells[1])
  private readonly exposure: number
  private readonly wide: number
  private readonly high: number
  private readonly sun: Vec3
  private readonly upward: Vec3
  private box = { x0: 0, y0: 0, x1: 0, y1: 0 }

  constructor(view: Camera, brightness = 1) {
    this.camera = view
    const { widthPx, heightPx } = view
    this.wide = widthPx * sampling
    this.high = heightPx * sampling
    const samples = this.wide * this.high
    this.depth = new Float32Array(samples).fill(Infinity)
    this.red = new Float32Array(samples)
    this.green = new Float32Array(samples)
    this.blue = new Float32Array(samples)
    this.blurDepth = new Float32Array(samples).fill(Infinity)
    this.blur = new Float32Array(samples * 4)
    this.sample = new Float32Array(samples * 3)
    this.sun = turnToCamera(view, toSun)
    this.upward = turnToCamera(view, [0, 1, 0])
    this.background = new Float32Array(widthPx * heightPx * 3)
    this.groundX = new Float32Array(widthPx * heightPx).fill(NaN)
    this.groundZ = new Float32Array(widthPx * heightPx).fill(NaN)
    this.exposure = brightness
    this.paintBackground()
    this.backgroundBytes = Buffer.from(this.background.map((v) => Math.min(255, v)))
    const near: number[] = []
    for (let at = 0; at < widthPx * heightPx; at++) {
      const i = (this.groundX[at]! - shadowMin[0]) / shadowCellM
      const k = (this.groundZ[at]! - shadowMin[1]) / shadowCellM
      if (i >= 0 && k >= 0 && i < shadowCells[0] - 1 && k < shadowCells[1] - 1) near.push(at)
    }
    this.shadowable = Int32Array.from(near)
  }

  private paintBackground(): void {
    const { widthPx, heightPx, focalPx, centreX, centreY, right, down, forward, position } = this.camera
    const tries = 3
    for (let y = 0; y < heightPx; y++) {
      for (let x = 0; x < widthPx; x++) {
        let r = 0
        let g = 0
        let b = 0
        for (let k = 0; k < tries * tries; k++) {
          const u = (x + ((k % tries) + 0.5) / tries - centreX) / focalPx
          const v = (y + (Math.floor(k / tries) + 0.5) / tries - centreY) / focalPx
          const d: Vec3 = [
            right[0] * u + down[0] * v + forward[0],
            right[1] * u + down[1] * v + forward[1],
            right[2] * u + down[2] * v + forward[2],
          ]
          let colour: Colour
          if (d[1] < -0.002) {
            const s = -position[1] / d[1]
            const gx = position[0] + d[0] * s
            const gz = position[2] + d[2] * s
            colour = groundColour(gx, gz)
            if (k === 4) {
              this.groundX[y * widthPx + x] = gx
              this.groundZ[y * widthPx + x] = gz
            }
          } else colour = skyColour(d)
          r += colour[0]
          g += colour[1]
          b += colour[2]
        }
        const at = (y * widthPx + x) * 3
        const n = (255 * this.exposure) / (tries * tries)
        this.background[at] = r * n
        this.background[at + 1] = g * n
        this.background[at + 2] = b * n
      }
    }
  }

  private grow(x0: number, y0: number, x1: number, y1: number): void {
    const b = this.box
    if (b.x1 <= b.x0) this.box = { x0, y0, x1, y1 }
    else {
      b.x0 = Math.min(b.x0, x0)
      b.y0 = Math.min(b.y0, y0)
      b.x1 = Math.max(b.x1, x1)
      b.y1 = Math.max(b.y1, y1)
    }
  }

  /** Light on a surface: sun, sky from above, some light back from the ground, darker where it turns away. */
  private light(nx: number, ny: number, nz: number, facing: number, shine: number, out: Float64Array): void {
    const sun = Math.max(0, nx * this.sun[0] + ny * this.sun[1] + nz * this.sun[2])
    const sky = 0.5 + 0.5 * (nx * this.upward[0] + ny * this.upward[1] + nz * this.upward[2])
    const rim = 0.72 + 0.28 * facing
    const glint = shine > 0 ? shine * sun ** 18 : 0
    out[0] = (0.26 + 0.26 * sky + 0.72 * sun) * rim
    out[1] = (0.28 + 0.28 * sky + 0.68 * sun) * rim
    out[2] = (0.25 + 0.33 * sky + 0.6 * sun) * rim
    out[3] = glint
  }

  /** Draws one volume; `target` says whether into the picture itself or into the blur layer. */
  private draw(volume: Volume, blurred: boolean): void {
    const c = this.camera
    const focal = c.focalPx * sampling
    const cx = c.centreX * sampling
    const cy = c.centreY * sampling
    const depth = blurred ? this.blurDepth : this.depth
    const lit = new Float64Array(4)
    const shine = volume.shine ?? 0
    const [cr, cg, cb] = volume.colour
    let bx0 = Infinity
    let by0 = Infinity
    let bx1 = -Infinity
    let by1 = -Infinity
    const cover = (p: Vec3, radius: number): boolean => {
      if (p[2] - radius < 0.15) return false
      const x = cx + (p[0] / p[2]) * focal
      const y = cy + (p[1] / p[2]) * focal
      const r = (radius / (p[2] - radius)) * focal * 1.12 + 1.5
      bx0 = Math.min(bx0, x - r)
      by0 = Math.min(by0, y - r)
      bx1 = Math.max(bx1, x + r)
      by1 = Math.max(by1, y + r)
      return true
    }
    const put = (at: number, distance: number, nx: number, ny: number, nz: number, facing: number): void => {
      depth[at] = distance
      this.light(nx, ny, nz, Math.max(0, facing), shine, lit)
      this.red[at] = 255 * this.exposure * (cr * lit[0]! + lit[3]!)
      this.green[at] = 255 * this.exposure * (cg * lit[1]! + lit[3]!)
      this.blue[at] = 255 * this.exposure * (cb * lit[2]! + lit[3]!)
    }
    const putBlurred = (
      at: number,
      distance: number,
      nx: number,
      ny: number,
      nz: number,
      facing: number,
    ): void => {
      depth[at] = distance
      this.light(nx, ny, nz, Math.max(0, facing), shine, lit)
      this.sample[at * 3] = 255 * this.exposure * (cr * lit[0]! + lit[3]!)
      this.sample[at * 3 + 1] = 255 * this.exposure * (cg * lit[1]! + lit[3]!)
      this.sample[at * 3 + 2] = 255 * this.exposure * (cb * lit[2]! + lit[3]!)
    }
    const write = blurred ? putBlurred : put
    let hit: (u: number, v: number, inverse: number, at: number) => void
    if (volume.kind === 'limb') {
      const a = toCamera(c, volume.from)
      const b = toCamera(c, volume.to)
      const ra = volume.fromRadiusM
      const rb = volume.toRadiusM
      if (!cover(a, ra) || !cover(b, rb)) return
      const bax = b[0] - a[0]
      const bay = b[1] - a[1]
      const baz = b[2] - a[2]
      const rr = ra - rb
      const m0 = bax * bax + bay * bay + baz * baz
      const m1 = -(a[0] * bax + a[1] * bay + a[2] * baz)
      const m5 = dot(a, a)
      const m7 = dot(b, b)
      const d2 = m0 - rr * rr
      // Ray against the cone that touches both end balls, then against the balls (quadratics in the distance).
      hit = (u, v, inverse, at) => {
        const dx = u * inverse
        const dy = v * inverse
        const dz = inverse
        const m2 = bax * dx + bay * dy + baz * dz
        const m3 = -(a[0] * dx + a[1] * dy + a[2] * dz)
        const k2 = d2 - m2 * m2
        const k1 = d2 * m3 - m1 * m2 + m2 * rr * ra
        const k0 = d2 * m5 - m1 * m1 + m1 * rr * ra * 2 - m0 * ra * ra
        const h = k1 * k1 - k0 * k2
        if (h >= 0 && d2 > 0) {
          const t = (-Math.sqrt(h) - k1) / k2
          const y = m1 - ra * rr + t * m2
          if (y > 0 && y < d2 && t > 0) {
            if (t >= depth[at]!) return
            let nx = d2 * (t * dx - a[0]) - bax * y
            let ny = d2 * (t * dy - a[1]) - bay * y
            let nz = d2 * (t * dz - a[2]) - baz * y
            const n = 1 / Math.sqrt(nx * nx + ny * ny + nz * nz)
            nx *= n
            ny *= n
            nz *= n
            write(at, t, nx, ny, nz, -(nx * dx + ny * dy + nz * dz))
            return
          }
        }
        const m6 = -(b[0] * dx + b[1] * dy + b[2] * dz)
        const ha = m3 * m3 - m5 + ra * ra
        const hb = m6 * m6 - m7 + rb * rb
        let t = Infinity
        let ox = 0
        let oy = 0
        let oz = 0
        let radius = 1
        if (ha > 0) {
          t = -m3 - Math.sqrt(ha)
          ox = a[0]
          oy = a[1]
          oz = a[2]
          radius = ra
        }
        if (hb > 0) {
          const t2 = -m6 - Math.sqrt(hb)
          if (t2 < t) {
            t = t2
            ox = b[0]
            oy = b[1]
            oz = b[2]
            radius = rb
          }
        }
        if (t < depth[at]! && t > 0) {
          const nx = (t * dx - ox) / radius
          const ny = (t * dy - oy) / radius
          const nz = (t * dz - oz) / radius
          write(at, t, nx, ny, nz, -(nx * dx + ny * dy + nz * dz))
        }
      }
    } else {
      const o = toCamera(c, volume.centre)
      const [r0, r1, r2] = volume.radiiM
      const seam = volume.seam ?? 1
      if (!cover(o, Math.max(r0, r1, r2))) return
      const e0 = turnToCamera(c, volume.axes[0])
      const e1 = turnToCamera(c, volume.axes[1])
      const e2 = turnToCamera(c, volume.axes[2])
      const o0 = -dot(o, e0) / r0
      const o1 = -dot(o, e1) / r1
      const o2 = -dot(o, e2) / r2
      const oo = o0 * o0 + o1 * o1 + o2 * o2 - 1
      hit = (u, v, inverse, at) => {
        const dx = u * inverse
        const dy = v * inverse
        const dz = inverse
        const d0 = (dx * e0[0] + dy * e0[1] + dz * e0[2]) / r0
        const d1 = (dx * e1[0] + dy * e1[1] + dz * e1[2]) / r1
        const d2 = (dx * e2[0] + dy * e2[1] + dz * e2[2]) / r2
        const qa = d0 * d0 + d1 * d1 + d2 * d2
        const qb = d0 * o0 + d1 * o1 + d2 * o2
        const h = qb * qb - qa * oo
        if (h < 0) return
        const t = (-qb - Math.sqrt(h)) / qa
        if (t >= depth[at]! || t <= 0) return
        const s0 = (o0 + t * d0) / r0
        const s1 = ((o1 + t * d1) / r1) * seam
        const s2 = (o2 + t * d2) / r2
        let nx = s0 * e0[0] + s1 * e1[0] + s2 * e2[0]
        let ny = s0 * e0[1] + s1 * e1[1] + s2 * e2[1]
        let nz = s0 * e0[2] + s1 * e1[2] + s2 * e2[2]
        const n = 1 / Math.sqrt(nx * nx + ny * ny + nz * nz)
        nx *= n
        ny *= n
        nz *= n
        write(at, t, nx, ny, nz, -(nx * dx + ny * dy + nz * dz))
      }
    }
    const x0 = Math.max(0, Math.floor(bx0))
    const y0 = Math.max(0, Math.floor(by0))
    const x1 = Math.min(this.wide, Math.ceil(bx1))
    const y1 = Math.min(this.high, Math.ceil(by1))
    if (x1 <= x0 || y1 <= y0) return
    this.grow(x0, y0, x1, y1)
    if (blurred) {
      this.sampleBox.x0 = Math.min(this.sampleBox.x0, x0)
      this.sampleBox.y0 = Math.min(this.sampleBox.y0, y0)
      this.sampleBox.x1 = Math.max(this.sampleBox.x1, x1)
      this.sampleBox.y1 = Math.max(this.sampleBox.y1, y1)
    }
    for (let y = y0; y < y1; y++) {
      const v = (y + 0.5 - cy) / focal
      for (let x = x0; x < x1; x++) {
        const u = (x + 0.5 - cx) / focal
        hit(u, v, 1 / Math.sqrt(u * u + v * v + 1), y * this.wide + x)
      }
    }
  }

  private sampleBox = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
  private castShadows(volumes: readonly Volume[]): void {
    this.shadow.fill(0)
    const [nx, nz] = shadowCells
    for (const volume of volumes) {
      const s = shadowOf(volume)
      const soft = 0.03
      const reach = Math.max(s.fromRadiusM, s.toRadiusM) + soft
      const i0 = Math.max(0, Math.floor((Math.min(s.from[0], s.to[0]) - reach - shadowMin[0]) / shadowCellM))
      const i1 = Math.min(
        nx - 1,
        Math.ceil((Math.max(s.from[0], s.to[0]) + reach - shadowMin[0]) / shadowCellM),
      )
      const k0 = Math.max(0, Math.floor((Math.min(s.from[2], s.to[2]) - reach - shadowMin[1]) / shadowCellM))
      const k1 = Math.min(
        nz - 1,
        Math.ceil((Math.max(s.from[2], s.to[2]) + reach - shadowMin[1]) / shadowCellM),
      )
      const ax = s.to[0] - s.from[0]
      const az = s.to[2] - s.from[2]
      const aa = ax * ax + az * az || 1e-9
      for (let k = k0; k <= k1; k++) {
        for (let i = i0; i <= i1; i++) {
          const px = shadowMin[0] + i * shadowCellM - s.from[0]
          const pz = shadowMin[1] + k * shadowCellM - s.from[2]
          const f = Math.min(1, Math.max(0, (px * ax + pz * az) / aa))
          const distance = Math.hypot(px - ax * f, pz - az * f)
          const radius = s.fromRadiusM + (s.toRadiusM - s.fromRadiusM) * f
          const cover = Math.min(1, Math.max(0, (radius - distance) / soft + 0.5))
          const at = k * nx + i
          if (cover > this.shadow[at]!) this.shadow[at] = cover
        }
      }
    }
  }

  private shadowAt(x: number, z: number): number {
    const fx = (x - shadowMin[0]) / shadowCellM
    const fz = (z - shadowMin[1]) / shadowCellM
    const [nx, nz] = shadowCells
    if (!(fx >= 0 && fz >= 0 && fx < nx - 1 && fz < nz - 1)) return 0
    const i = Math.floor(fx)
    const k = Math.floor(fz)
    const u = fx - i
    const v = fz - k
    const at = k * nx + i
    const s = this.shadow
    return (s[at]! * (1 - u) + s[at + 1]! * u) * (1 - v) + (s[at + nx]! * (1 - u) + s[at + nx + 1]! * u) * v
  }

  /** Is a place of the last frame hidden by the still volumes? `nearM`: what is so near behind the surface counts as seen. */
  hides(p: Vec3, nearM: number): boolean {
    const [x, y] = project(this.camera, p)
    const [column, row] = [Math.round(x * sampling), Math.round(y * sampling)]
    if (column < 0 || row < 0 || column >= this.wide || row >= this.high) return true
    const away = toCamera(this.camera, p)
    return this.depth[row * this.wide + column]! < Math.hypot(...away) - nearM
  }

  /**
   * One frame as RGB bytes. `still` is drawn sharp; `moving` holds the fast things (club, ball) at several
   * instants of the exposure, which are averaged.
   */
  frame(still: readonly Volume[], moving: readonly (readonly Volume[])[]): Buffer {
    const { widthPx, heightPx } = this.camera
    // Clear what the frame before touched.
    for (let y = this.box.y0; y < this.box.y1; y++) {
      const from = y * this.wide + this.box.x0
      const to = y * this.wide + this.box.x1
      this.depth.fill(Infinity, from, to)
      this.blur.fill(0, from * 4, to * 4)
    }
    this.box = { x0: 0, y0: 0, x1: 0, y1: 0 }
    for (const volume of still) this.draw(volume, false)
    const weight = 1 / moving.length
    for (const instant of moving) {
      this.sampleBox = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
      for (const volume of instant) this.draw(volume, true)
      const { x0, y0, x1, y1 } = this.sampleBox
      const sample = this.sample
      for (let y = y0; y < y1; y++) {
        for (let at = y * this.wide + x0; at < y * this.wide + x1; at++) {
          const d = this.blurDepth[at]!
          if (d === Infinity) continue
          this.blurDepth[at] = Infinity
          if (d >= this.depth[at]!) continue
          this.blur[at * 4] = this.blur[at * 4]! + sample[at * 3]! * weight
          this.blur[at * 4 + 1] = this.blur[at * 4 + 1]! + sample[at * 3 + 1]! * weight
          this.blur[at * 4 + 2] = this.blur[at * 4 + 2]! + sample[at * 3 + 2]! * weight
          this.blur[at * 4 + 3] = this.blur[at * 4 + 3]! + weight
        }
      }
    }
    this.castShadows([...still, ...moving[0]!])
    const out = Buffer.from(this.backgroundBytes)
    const byte = (value: number): number => (value > 255 ? 255 : value)
    for (const at of this.shadowable) {
      const shadow = this.shadowAt(this.groundX[at]!, this.groundZ[at]!)
      if (shadow === 0) continue
      const shade = 1 - 0.52 * shadow
      out[at * 3] = byte(this.background[at * 3]! * shade)
      out[at * 3 + 1] = byte(this.background[at * 3 + 1]! * shade)
      out[at * 3 + 2] = byte(this.background[at * 3 + 2]! * (shade + (1 - shade) * 0.08))
    }
    const per = 1 / (sampling * sampling)
    const x0 = Math.floor(this.box.x0 / sampling)
    const x1 = Math.min(widthPx, Math.ceil(this.box.x1 / sampling))
    const y1 = Math.min(heightPx, Math.ceil(this.box.y1 / sampling))
    for (let y = Math.floor(this.box.y0 / sampling); y < y1; y++) {
      for (let x = x0; x < x1; x++) {
        const at = y * widthPx + x
        const ground = this.groundX[at]!
        const shade = Number.isNaN(ground) ? 1 : 1 - 0.52 * this.shadowAt(ground, this.groundZ[at]!)
        const br = this.background[at * 3]! * shade
        const bg = this.background[at * 3 + 1]! * shade
        const bb = this.background[at * 3 + 2]! * (shade + (1 - shade) * 0.08)
        let r = 0
        let g = 0
        let b = 0
        for (let k = 0; k < sampling * sampling; k++) {
          const s = (y * sampling + (k >> 1)) * this.wide + x * sampling + (k & 1)
          const covered = this.depth[s]! < Infinity
          const clear = 1 - this.blur[s * 4 + 3]!
          r += (covered ? this.red[s]! : br) * clear + this.blur[s * 4]!
          g += (covered ? this.green[s]! : bg) * clear + this.blur[s * 4 + 1]!
          b += (covered ? this.blue[s]! : bb) * clear + this.blur[s * 4 + 2]!
        }
        out[at * 3] = byte(r * per)
        out[at * 3 + 1] = byte(g * per)
        out[at * 3 + 2] = byte(b * per)
      }
    }
    return out
  }
}
