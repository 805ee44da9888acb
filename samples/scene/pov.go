package main

import (
	"fmt"
	"math"
	"strings"
)

// pov writes the scene as POV-Ray text. Picture files it refers to, by the
// names in the result's map, must lie beside it. With mask set, bodies of
// resistors are white and all else is black.
func (s *scene) pov(mask bool) (string, map[string][]byte) {
	var b strings.Builder
	files := map[string][]byte{}
	b.WriteString("#version 3.7;\nglobal_settings { assumed_gamma 1.0 max_trace_level 4 }\n")
	b.WriteString(s.cam.pov())
	if mask {
		b.WriteString("#default { finish { ambient 0 diffuse 0 } }\n")
	} else {
		b.WriteString(s.light.pov(s.ground.mean))
		fmt.Fprintf(&b, "plane { y, 0 hollow\n%s}\n", s.ground.text)
	}
	for i, p := range s.parts {
		b.WriteString(p.wiresPov(mask))
		if mask {
			b.WriteString(p.bodyPov(maskTexture(p.kind == "resistor")))
			continue
		}
		if s.ground.name != "cut-out white" {
			b.WriteString(s.light.contactPov(p))
		}
		painted := p.skin.paint(p, s.pxPerMM)
		name := fmt.Sprintf("skin%02d.png", i)
		files[name] = painted.colour
		metal := ""
		if painted.metal != nil {
			metal = fmt.Sprintf("metal%02d.png", i)
			files[metal] = painted.metal
		}
		b.WriteString(p.bodyPov(p.texturePov(name, metal)))
	}
	if !mask {
		for _, t := range s.things {
			fmt.Fprintf(&b, "union { %s\nrotate y*%.3f translate %s }\n", t.text, t.povTurn(), povVec(t.at.flat()))
		}
		b.WriteString(s.tape)
	}
	return b.String(), files
}

func maskTexture(resistor bool) string {
	shade := 0
	if resistor {
		shade = 1
	}
	return fmt.Sprintf("texture { pigment { rgb %d } finish { ambient 0 diffuse 0 emission 1 } }", shade)
}

// bodyPov is the body as a surface of revolution in its place: a smooth one,
// or straight from station to station for the close stations of a bevel,
// through which POV-Ray cannot lay a smooth curve without it running wild.
func (p *part) bodyPov(texture string) string {
	var b strings.Builder
	first, last := p.profile[0], p.profile[len(p.profile)-1]
	if p.shape == cylinder {
		fmt.Fprintf(&b, "lathe { linear_spline %d,\n<0,%.5f>", len(p.profile)+2, first.along)
	} else {
		fmt.Fprintf(&b, "sor { %d,\n<%.5f,%.5f>", len(p.profile)+2, first.radius*0.98, first.along-0.02)
	}
	for _, at := range p.profile {
		fmt.Fprintf(&b, ",<%.5f,%.5f>", at.radius, at.along)
	}
	if p.shape == cylinder {
		fmt.Fprintf(&b, ",<0,%.5f>\n", last.along)
	} else {
		// Sturm's root solver: the quicker one loses parts of near-cylinders.
		fmt.Fprintf(&b, ",<%.5f,%.5f>\nsturm\n", last.radius*0.98, last.along+0.02)
	}
	fmt.Fprintf(&b, "%s\n%s }\n", texture, p.place())
	return b.String()
}

// place is the matrix that brings the body from standing on the first ring's
// end at the origin to its place in the scene.
func (p *part) place() string {
	x := p.along.cross(vec{0, 1, 0}).unit()
	z := x.cross(p.along)
	turned := x.times(math.Cos(p.spin)).plus(z.times(math.Sin(p.spin)))
	z = turned.cross(p.along)
	foot := p.end(0)
	row := func(v vec) string { return fmt.Sprintf("%.6f,%.6f,%.6f", v.x, v.y, v.z) }
	return fmt.Sprintf("matrix <%s, %s, %s, %s>", row(turned), row(p.along), row(z), row(foot))
}

// texturePov lays the skin's pictures round the body.
func (p *part) texturePov(colour, metal string) string {
	g := p.skin.gloss
	finish := fmt.Sprintf("finish { diffuse %.3f specular %.3f roughness %.4f reflection { %.4f, %.3f falloff 3 } }",
		0.9-0.06*g, 0.05+0.3*g*g, 0.09-0.07*g, 0.045*smoothstep(0.2, 0.7, g), 0.03+0.3*g)
	around := func(file string) string {
		return fmt.Sprintf("image_map { png %q gamma srgb map_type 2 interpolate 2 }", file)
	}
	fit := fmt.Sprintf("scale <1,%.5f,1> translate <0,%.5f,0>", p.length+2*p.neck, -p.neck)
	orange := fmt.Sprintf("normal { bumps %.3f scale %.3f }", 0.02+0.12*(1-g), 0.12)
	coat := fmt.Sprintf("pigment { %s %s } %s %s", around(colour), fit, orange, finish)
	if metal == "" {
		return "texture { " + coat + " }"
	}
	flakes := fmt.Sprintf("pigment { %s %s } normal { bumps %.3f scale 0.06 } finish { diffuse 0.5 specular %.3f roughness 0.03 metallic reflection { %.3f metallic } }",
		around(colour), fit, p.skin.flakeTilt(), 0.3+0.6*g, 0.12+0.35*g)
	return fmt.Sprintf("texture { pigment_pattern { image_map { png %q gamma 1.0 map_type 2 interpolate 2 } %s } texture_map { [0 %s][1 %s] } }",
		metal, fit, coat, flakes)
}

// flakeTilt is how unevenly the metal flakes of the rings lie.
func (s *skin) flakeTilt() float64 {
	most := 0.0
	for _, r := range s.rings {
		most = max(most, r.glitter)
	}
	return 0.05 + 0.5*most
}

// wiresPov is both leads.
func (p *part) wiresPov(mask bool) string {
	texture := "texture { pigment { rgb 0 } }"
	if !mask {
		texture = p.wire.pov()
	}
	var b strings.Builder
	for _, path := range p.leads {
		if len(path) > 1 {
			fmt.Fprintf(&b, "union {%s %s }\n", wirePov(path, p.leadRadius), texture)
		}
	}
	return b.String()
}

// wire is the metal of a lead.
type wire struct {
	tone        rgb
	shine, rust float64
}

func drawWire(d dice, age float64) wire {
	tone := fromHex(pick(d, []string{"#bfc2c4", "#adafaf", "#cacac6", "#9c9c98"})).varied(d, 4, 0.3, 3)
	if d.chance(0.06) {
		tone = fromHex("#b0704a") // bare copper
	}
	return wire{tone.times(1 - 0.3*age), d.between(0.3, 0.8) * (1 - 0.5*age), age}
}

func (w wire) pov() string {
	return fmt.Sprintf("texture { pigment { %s } normal { bumps 0.12 scale 0.3 } finish { diffuse %.3f specular %.3f roughness 0.02 metallic reflection { %.3f metallic } } }",
		w.tone.pov(), 0.75-0.55*w.shine, 0.2+0.5*w.shine, w.shine)
}
