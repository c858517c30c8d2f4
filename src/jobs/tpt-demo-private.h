/* The parts of the demo: chance without chance, what happens, and pictures of it. */
#pragma once

#include <gio/gio.h>

#include "tpt-record.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* A counter-based generator: the same key gives the same number, whatever was
 * asked before. */
guint64 tpt_demo_hash (guint64 a, guint64 b, guint64 c);
double tpt_demo_uniform (guint64 a, guint64 b, guint64 c); /* 0 <= u < 1 */

/**
 * TptDemoShot: one picture.
 * @scene: which place: its trees and ground
 * @night: infra-red grey instead of daylight
 * @animal: size class 0 (none) to 4
 * @step: position in its burst
 */
typedef struct {
  guint64 scene;
  guint64 trigger;
  gboolean night;
  int animal;
  int step;
} TptDemoShot;

/* Draws, writes and stamps a JPEG. @reading: what the camera's clock shows. */
gboolean tpt_demo_write_picture (const char *path, const TptDemoShot *shot, TptReading reading, const char *serial,
                                 double temperature, GError **error);

/* Writes every record of the two years into @store, inside actions of its own,
 * the pictures on record below @folder/pictures, and the cards below
 * @folder/cards. */
gboolean tpt_demo_fill (TptStore *store, const char *folder, GCancellable *cancellable, GError **error);

/* The moment the demo's clock stands at: 12 June 2026, 17:00 at the lodge. */
#define TPT_DEMO_NOW G_GINT64_CONSTANT (1781254800000)
#define TPT_DEMO_ZONE "Asia/Kuching"

G_END_DECLS
