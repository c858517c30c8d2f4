/* Figures of animals from a few measures each, in heights at the shoulder. */
#include "tpt-scene-private.h"

#include <math.h>

#include "sci-random.h"

enum {
  PART_SPOTS = 1 << 0,
  PART_BANDS = 1 << 1,
  PART_RINGED_TAIL = 1 << 2,
  PART_ANTLERS = 1 << 3,
  PART_QUILLS = 1 << 4,
  PART_SCALES = 1 << 5,
  PART_BIB = 1 << 6,
  PART_TUSKS = 1 << 7,
};

/**
 * Measures: of a beast on four legs.
 * @length: of the trunk
 * @depth: of the trunk
 * @neck_x: from the shoulder to the middle of the head
 * @neck_y: likewise, upwards from the back
 * @head: radius
 * @snout: beyond the head
 * @ear: length
 * @tail: length
 * @thick: width of the tail at its root
 * @lift: how far the tail's tip stands above its root
 */
typedef struct {
  double length, depth, neck_x, neck_y, head, snout, ear, tail, thick, lift;
  double red, green, blue;
  guint parts;
} Measures;

static const Measures measures[TPT_N_BODIES] = {
  [TPT_BODY_PIG] = { 1.50, 0.64, 0.30, -0.22, 0.24, 0.42, 0.14, 0.30, 0.04, -0.15, 0.30, 0.25, 0.22, PART_TUSKS },
  [TPT_BODY_MOUSE_DEER] = { 1.05, 0.52, 0.22, 0.10, 0.17, 0.20, 0.10, 0.12, 0.07, -0.05, 0.48, 0.30, 0.16, PART_BIB },
  [TPT_BODY_MACAQUE] = { 0.95, 0.46, 0.16, 0.16, 0.20, 0.06, 0.06, 0.28, 0.06, 0.25, 0.42, 0.36, 0.26, 0 },
  [TPT_BODY_CIVET] = { 1.60, 0.42, 0.26, 0.04, 0.17, 0.20, 0.09, 1.05, 0.14, -0.25, 0.40, 0.36, 0.28, PART_SPOTS | PART_RINGED_TAIL },
  [TPT_BODY_BANDED_CIVET] = { 1.65, 0.38, 0.27, 0.08, 0.15, 0.26, 0.10, 0.95, 0.11, -0.20, 0.48, 0.40, 0.28, PART_BANDS },
  [TPT_BODY_MUNTJAC] = { 1.20, 0.46, 0.26, 0.30, 0.16, 0.22, 0.17, 0.20, 0.08, -0.12, 0.55, 0.32, 0.16, 0 },
  [TPT_BODY_SAMBAR] = { 1.30, 0.48, 0.30, 0.40, 0.15, 0.24, 0.18, 0.18, 0.09, -0.16, 0.36, 0.26, 0.18, PART_ANTLERS },
  [TPT_BODY_PORCUPINE] = { 1.25, 0.62, 0.26, -0.16, 0.18, 0.12, 0.05, 0.14, 0.10, -0.02, 0.24, 0.20, 0.17, PART_QUILLS },
  [TPT_BODY_BEAR] = { 1.40, 0.72, 0.30, -0.02, 0.28, 0.18, 0.10, 0.05, 0.06, -0.02, 0.12, 0.11, 0.11, PART_BIB },
  [TPT_BODY_CAT] = { 1.50, 0.44, 0.24, 0.10, 0.19, 0.07, 0.11, 1.00, 0.11, -0.15, 0.52, 0.42, 0.26, PART_SPOTS },
  [TPT_BODY_OTTER] = { 1.90, 0.46, 0.30, 0.06, 0.20, 0.12, 0.05, 0.95, 0.24, -0.35, 0.30, 0.24, 0.18, PART_BIB },
  [TPT_BODY_PANGOLIN] = { 1.60, 0.70, 0.24, -0.30, 0.13, 0.22, 0.03, 1.25, 0.36, -0.45, 0.42, 0.34, 0.24, PART_SCALES },
};

/* Fur throws the flash back: nearly white at night, whatever its colour. */
static void
set_fur (cairo_t *cr, const TptScene *scene, const Measures *m, double lift)
{
  double shine = scene->night ? 0.45 : 0;

  tpt_scene_set_color (cr, scene, m->red + shine + lift, m->green + shine + lift, m->blue + shine + lift);
}

static void
fill_ellipse (cairo_t *cr, double x, double y, double a, double b)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, a, b);
  cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
  cairo_restore (cr);
  cairo_fill (cr);
}

static void
draw_legs (cairo_t *cr, const TptScene *scene, const Measures *m)
{
  static const double at[] = { -0.42, -0.28, 0.26, 0.40 };
  double width = 0.07 + 0.06 * m->depth;

  for (guint i = 0; i < G_N_ELEMENTS (at); i++)
    {
      double stride = 0.08 * ((i + (guint) scene->step) % 2 == 0 ? 1 : -1);

      set_fur (cr, scene, m, i % 2 == 0 ? -0.04 : 0);
      cairo_move_to (cr, at[i] * m->length - width, -1 + m->depth * 0.6);
      cairo_line_to (cr, at[i] * m->length - width * 0.5 + stride, 0);
      cairo_line_to (cr, at[i] * m->length + width * 0.6 + stride, 0);
      cairo_line_to (cr, at[i] * m->length + width, -1 + m->depth * 0.6);
      cairo_fill (cr);
    }
}

static void
draw_tail (cairo_t *cr, const TptScene *scene, const Measures *m)
{
  double x = -0.48 * m->length, y = -1 + m->depth * 0.3;

  set_fur (cr, scene, m, -0.02);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_width (cr, m->thick);
  cairo_move_to (cr, x, y);
  cairo_curve_to (cr, x - m->tail * 0.4, y - m->lift * 0.2, x - m->tail * 0.7, y - m->lift * 1.2, x - m->tail, y - m->lift);
  cairo_stroke (cr);
  set_fur (cr, scene, m, -0.16);
  for (int ring = 1; (m->parts & PART_RINGED_TAIL) != 0 && ring < 6; ring++)
    fill_ellipse (cr, x - m->tail * ring / 6.0, y - m->lift * ring / 6.0, 0.04, m->thick * 0.5);
}

static void
draw_trunk (cairo_t *cr, const TptScene *scene, const Measures *m)
{
  double half = m->length / 2, top = -1, bottom = -1 + m->depth;

  set_fur (cr, scene, m, 0);
  cairo_move_to (cr, -half, top + m->depth * 0.4);
  cairo_curve_to (cr, -half, top - m->depth * 0.12, -half * 0.3, top - m->depth * 0.10, 0, top);
  cairo_curve_to (cr, half * 0.4, top + m->depth * 0.02, half, top - m->depth * 0.06, half, top + m->depth * 0.4);
  cairo_curve_to (cr, half, bottom, half * 0.4, bottom + m->depth * 0.06, 0, bottom);
  cairo_curve_to (cr, -half * 0.5, bottom - m->depth * 0.04, -half, bottom, -half, top + m->depth * 0.4);
  cairo_fill (cr);
}

static void
draw_head (cairo_t *cr, const TptScene *scene, const Measures *m, double x, double y)
{
  set_fur (cr, scene, m, 0);
  cairo_set_line_width (cr, m->head * 1.5);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_move_to (cr, m->length * 0.40, -1 + m->depth * 0.35);
  cairo_line_to (cr, x, y);
  cairo_stroke (cr);
  fill_ellipse (cr, x, y, m->head, m->head * 0.9);
  cairo_move_to (cr, x + m->head * 0.2, y - m->head * 0.75);
  cairo_line_to (cr, x + m->head + m->snout, y + m->head * 0.25);
  cairo_line_to (cr, x + m->head + m->snout * 0.9, y + m->head * 0.6);
  cairo_line_to (cr, x, y + m->head * 0.85);
  cairo_fill (cr);
  set_fur (cr, scene, m, -0.06);
  for (int side = 0; side < 2; side++)
    fill_ellipse (cr, x - m->head * (0.15 + 0.5 * side), y - m->head * 0.9 - m->ear * 0.3, m->ear * 0.45, m->ear);
}

/* A spot where the fur is darker or lighter, kept on the trunk. */
static void
draw_pattern (cairo_t *cr, const TptScene *scene, const Measures *m)
{
  set_fur (cr, scene, m, -0.18);
  for (guint i = 0; (m->parts & PART_SPOTS) != 0 && i < 26; i++)
    fill_ellipse (cr, m->length * (-0.42 + 0.82 * sci_random_uniform (scene->body, i, 1)),
                  -1 + m->depth * (0.12 + 0.62 * sci_random_uniform (scene->body, i, 2)), 0.055, 0.04);
  for (int i = 0; (m->parts & PART_BANDS) != 0 && i < 5; i++)
    fill_ellipse (cr, m->length * (-0.36 + 0.16 * i), -1 + m->depth * 0.36, 0.05, m->depth * 0.38);
  set_fur (cr, scene, m, -0.12);
  for (guint i = 0; (m->parts & PART_SCALES) != 0 && i < 40; i++)
    {
      double x = m->length * (-0.45 + 0.9 * (i % 10) / 9.0), y = -1 + m->depth * (0.1 + 0.2 * (i / 10));

      cairo_set_line_width (cr, 0.02);
      cairo_arc (cr, x, y, 0.08, 0.3, 2.8);
      cairo_stroke (cr);
    }
  set_fur (cr, scene, m, 0.32);
  if ((m->parts & PART_BIB) != 0)
    fill_ellipse (cr, m->length * 0.44, -1 + m->depth * 0.55, 0.08, m->depth * 0.18);
}

static void
draw_quills (cairo_t *cr, const TptScene *scene, const Measures *m)
{
  cairo_set_line_width (cr, 0.018);
  for (guint i = 0; i < 46; i++)
    {
      double u = sci_random_uniform (scene->body, i, 5), x = m->length * (-0.5 + 0.75 * u);
      double y = -1 + m->depth * 0.35 * sci_random_uniform (scene->body, i, 6);

      set_fur (cr, scene, m, i % 2 == 0 ? 0.45 : -0.1);
      cairo_move_to (cr, x, y);
      cairo_line_to (cr, x - 0.3, y - 0.28 + 0.2 * (1 - u));
      cairo_stroke (cr);
    }
}

static void
draw_antlers (cairo_t *cr, const TptScene *scene, const Measures *m, double x, double y)
{
  set_fur (cr, scene, m, 0.2);
  cairo_set_line_width (cr, 0.035);
  for (int side = 0; side < 2; side++)
    {
      double root = x - 0.05 + 0.1 * side, tip = root - 0.25 + 0.35 * side;

      cairo_move_to (cr, root, y - m->head);
      cairo_curve_to (cr, root - 0.1, y - 0.45, tip, y - 0.5, tip, y - 0.85);
      cairo_move_to (cr, root, y - m->head - 0.12);
      cairo_line_to (cr, root + 0.18, y - m->head - 0.30);
      cairo_stroke (cr);
    }
}

static void
draw_face (cairo_t *cr, const TptScene *scene, const Measures *m, double x, double y)
{
  double shine = scene->night ? 1 : 0.03;

  if ((m->parts & PART_TUSKS) != 0)
    {
      cairo_set_source_rgb (cr, 0.85, 0.83, 0.75);
      fill_ellipse (cr, x + m->head + m->snout * 0.55, y + m->head * 0.55, 0.08, 0.03);
    }
  cairo_set_source_rgb (cr, shine, shine, shine); /* eyeshine */
  fill_ellipse (cr, x + m->head * 0.35, y - m->head * 0.2, scene->night ? 0.045 : 0.03, scene->night ? 0.045 : 0.03);
}

static void
draw_beast (cairo_t *cr, const TptScene *scene)
{
  const Measures *m = &measures[scene->body];
  double x = m->length * 0.5 + m->neck_x, y = -1 + m->depth * 0.25 - m->neck_y;

  draw_tail (cr, scene, m);
  draw_legs (cr, scene, m);
  draw_trunk (cr, scene, m);
  draw_pattern (cr, scene, m);
  if ((m->parts & PART_QUILLS) != 0)
    draw_quills (cr, scene, m);
  if ((m->parts & PART_ANTLERS) != 0)
    draw_antlers (cr, scene, m, x, y);
  draw_head (cr, scene, m, x, y);
  draw_face (cr, scene, m, x, y);
}

/* A pheasant: the great argus trails a tail three times as long as itself. */
static void
draw_bird (cairo_t *cr, const TptScene *scene)
{
  gboolean argus = scene->body == TPT_BODY_ARGUS;
  Measures feathers = { .red = argus ? 0.42 : 0.14, .green = argus ? 0.30 : 0.16, .blue = argus ? 0.18 : 0.26 };
  double tail = argus ? 2.6 : 0.9;

  set_fur (cr, scene, &feathers, -0.05);
  cairo_move_to (cr, -0.4, -0.85);
  cairo_curve_to (cr, -0.8, -1.0 - 0.2 * !argus, -tail * 0.7, -0.75 - 0.5 * !argus, -tail, argus ? -0.35 : -0.95);
  cairo_curve_to (cr, -tail * 0.7, -0.45, -0.8, -0.5, -0.3, -0.55);
  cairo_fill (cr);
  cairo_set_line_width (cr, 0.06);
  for (int leg = 0; leg < 2; leg++)
    {
      cairo_move_to (cr, 0.02 + 0.14 * leg, -0.5);
      cairo_line_to (cr, 0.06 + 0.14 * leg + 0.05 * (scene->step % 2), 0);
      cairo_stroke (cr);
    }
  set_fur (cr, scene, &feathers, 0);
  fill_ellipse (cr, 0.05, -0.72, 0.55, 0.30);
  cairo_set_line_width (cr, 0.14);
  cairo_move_to (cr, 0.42, -0.80);
  cairo_curve_to (cr, 0.55, -0.95, 0.50, -1.10, 0.56, -1.22);
  cairo_stroke (cr);
  tpt_scene_set_color (cr, scene, 0.25, 0.40, 0.65);
  fill_ellipse (cr, 0.60, -1.25, 0.12, 0.10);
  set_fur (cr, scene, &feathers, 0.1);
  fill_ellipse (cr, argus ? 0.50 : 0.55, -1.37, 0.05, argus ? 0.06 : 0.14); /* crest */
}

static void
draw_person (cairo_t *cr, const TptScene *scene)
{
  Measures cloth = { .red = 0.22, .green = 0.30, .blue = 0.42 };

  set_fur (cr, scene, &cloth, -0.08);
  for (int leg = -1; leg <= 1; leg += 2)
    {
      cairo_move_to (cr, -0.07 + 0.05 * leg, -0.95);
      cairo_line_to (cr, -0.06 + (0.14 + 0.03 * (scene->step % 2)) * leg, 0);
      cairo_line_to (cr, 0.06 + (0.14 + 0.03 * (scene->step % 2)) * leg, 0);
      cairo_line_to (cr, 0.09 + 0.05 * leg, -0.95);
      cairo_fill (cr);
    }
  set_fur (cr, scene, &cloth, 0.08);
  fill_ellipse (cr, 0, -1.28, 0.24, 0.40);
  fill_ellipse (cr, -0.26, -1.25, 0.16, 0.26); /* a pack */
  tpt_scene_set_color (cr, scene, 0.55, 0.42, 0.33);
  fill_ellipse (cr, 0.03, -1.80, 0.13, 0.16);
}

void
tpt_scene_draw_body (cairo_t *cr, const TptScene *scene)
{
  if (scene->body == TPT_BODY_ARGUS || scene->body == TPT_BODY_FIREBACK)
    draw_bird (cr, scene);
  else if (scene->body == TPT_BODY_PERSON)
    draw_person (cr, scene);
  else
    draw_beast (cr, scene);
}

void
tpt_scene_draw_animals (cairo_t *cr, const TptScene *scene)
{
  double height = 10 + 11.0 * scene->size;

  for (int i = 0; scene->body != TPT_BODY_NONE && i < MIN (scene->animals, 4); i++)
    {
      guint number = (guint) i;
      gboolean turned = sci_random_uniform (scene->trigger, 3, 3) < 0.5;
      double far = sci_random_uniform (scene->trigger, 4, number);
      double x = SCENE_WIDTH * (0.2 + 0.55 * sci_random_uniform (scene->trigger, 2, 2 + number)) + (turned ? -9 : 9) * scene->step;

      cairo_save (cr);
      cairo_translate (cr, x, SCENE_HEIGHT * (0.80 + 0.14 * far));
      cairo_scale (cr, (turned ? -1 : 1) * height * (0.8 + 0.3 * far), height * (0.8 + 0.3 * far));
      tpt_scene_draw_body (cr, scene);
      cairo_restore (cr);
    }
}
