#include "config.h"

#include "tpt-names-editor.h"

#include <glib/gi18n-lib.h>
#include <string.h>

struct _TptNamesEditor {
  GtkWidget parent_instance;

  GPtrArray *lines; /* (owned) (element-type Line) */
  GtkGrid *grid;
  GtkWidget *add;
};

G_DEFINE_FINAL_TYPE (TptNamesEditor, tpt_names_editor, GTK_TYPE_WIDGET)

/* One language. */
typedef struct {
  char *language;     /* (owned) (nullable): %NULL while it is typed */
  GtkEditable *code;  /* (nullable): where it is typed */
  GtkEditable *name;
} Line;

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* Codes of ISO 639 that have a line from the beginning, and a few more whose
 * names are worth showing. */
static const struct {
  const char *code;
  const char *name;
  gboolean always;
} languages[] = {
  { "en", N_("English"), TRUE },     { "es", N_("Spanish"), TRUE },  { "pt", N_("Portuguese"), TRUE },
  { "ms", N_("Malay"), TRUE },       { "de", N_("German"), FALSE },  { "fr", N_("French"), FALSE },
  { "id", N_("Indonesian"), FALSE }, { "iba", N_("Iban"), FALSE },   { "it", N_("Italian"), FALSE },
  { "ja", N_("Japanese"), FALSE },   { "nl", N_("Dutch"), FALSE },   { "sw", N_("Swahili"), FALSE },
  { "th", N_("Thai"), FALSE },       { "vi", N_("Vietnamese"), FALSE }, { "zh", N_("Chinese"), FALSE },
};

static void
free_line (gpointer data)
{
  g_free (((Line *) data)->language);
  g_free (data);
}

static const char *
name_language (const char *code)
{
  for (gsize i = 0; i < G_N_ELEMENTS (languages); i++)
    if (g_str_equal (languages[i].code, code))
      return _(languages[i].name);
  return code;
}

/* (transfer none): the code of a line, perhaps half typed. */
static const char *
get_language (const Line *line)
{
  return line->language != NULL ? line->language : gtk_editable_get_text (line->code);
}

static void
changed_cb (TptNamesEditor *self)
{
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static GtkWidget *
make_entry (TptNamesEditor *self, const char *label)
{
  GtkWidget *entry = gtk_entry_new ();

  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (changed_cb), self);
  return entry;
}

static GtkWidget *
make_head (TptNamesEditor *self, Line *line)
{
  GtkWidget *head;

  if (line->language != NULL)
    {
      head = gtk_label_new (name_language (line->language));
      gtk_label_set_xalign (GTK_LABEL (head), 0);
      return head;
    }
  head = make_entry (self, _("Code of the language"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (head), _("Code, such as fr"));
  gtk_editable_set_width_chars (GTK_EDITABLE (head), 12);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (head), 12);
  line->code = GTK_EDITABLE (head);
  return head;
}

/* @language (nullable): to be typed. */
static Line *
add_line (TptNamesEditor *self, const char *language, const char *name)
{
  Line *line = g_new0 (Line, 1);
  int row = (int) self->lines->len;
  g_autofree char *label = language != NULL ? g_strdup_printf (_("Name in %s"), name_language (language)) : g_strdup (_("Name"));
  GtkWidget *entry;

  line->language = g_strdup (language);
  g_ptr_array_add (self->lines, line);
  gtk_grid_attach (self->grid, make_head (self, line), 0, row, 1, 1);
  entry = make_entry (self, label);
  gtk_widget_set_hexpand (entry, TRUE);
  line->name = GTK_EDITABLE (entry);
  gtk_editable_set_text (line->name, name != NULL ? name : "");
  gtk_grid_attach (self->grid, entry, 1, row, 1, 1);
  return line;
}

static void
add_cb (TptNamesEditor *self)
{
  Line *line = add_line (self, NULL, NULL);

  gtk_widget_grab_focus (GTK_WIDGET (line->code));
}

static void
tpt_names_editor_dispose (GObject *object)
{
  TptNamesEditor *self = TPT_NAMES_EDITOR (object);

  g_clear_pointer ((GtkWidget **) &self->grid, gtk_widget_unparent);
  g_clear_pointer (&self->add, gtk_widget_unparent);

  G_OBJECT_CLASS (tpt_names_editor_parent_class)->dispose (object);
}

static void
tpt_names_editor_finalize (GObject *object)
{
  g_ptr_array_unref (TPT_NAMES_EDITOR (object)->lines);

  G_OBJECT_CLASS (tpt_names_editor_parent_class)->finalize (object);
}

static void
tpt_names_editor_class_init (TptNamesEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_names_editor_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_names_editor_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_names_editor_init (TptNamesEditor *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 12);
  self->lines = g_ptr_array_new_with_free_func (free_line);
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_column_spacing (self->grid, 18);
  gtk_grid_set_row_spacing (self->grid, 6);
  gtk_widget_set_parent (GTK_WIDGET (self->grid), GTK_WIDGET (self));
  self->add = gtk_button_new_with_mnemonic (_("_Another language"));
  gtk_widget_set_halign (self->add, GTK_ALIGN_START);
  gtk_widget_set_parent (self->add, GTK_WIDGET (self));
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (add_cb), self);
}

GtkWidget *
tpt_names_editor_new (void)
{
  return g_object_new (TPT_TYPE_NAMES_EDITOR, NULL);
}

static gboolean
is_always_there (const char *language)
{
  for (gsize i = 0; i < G_N_ELEMENTS (languages); i++)
    if (languages[i].always && g_str_equal (languages[i].code, language))
      return TRUE;
  return FALSE;
}

void
tpt_names_editor_load (TptNamesEditor *self, TptRecord *species)
{
  GHashTable *names = species != NULL ? tpt_record_get_names (species) : NULL;
  g_autoptr (GList) there = names != NULL ? g_list_sort (g_hash_table_get_keys (names), (GCompareFunc) strcmp) : NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (languages); i++)
    if (languages[i].always)
      add_line (self, languages[i].code, names != NULL ? g_hash_table_lookup (names, languages[i].code) : NULL);
  for (GList *l = there; l != NULL; l = l->next)
    if (!is_always_there (l->data))
      add_line (self, l->data, g_hash_table_lookup (names, l->data));
}

void
tpt_names_editor_apply (TptNamesEditor *self, TptRecord *species)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];
      g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (line->name)));

      if (line->language != NULL || *name != '\0')
        tpt_record_set_name (species, get_language (line), name);
    }
}

/* ISO 639 has two or three letters; a country or script may follow. */
static gboolean
is_code (const char *text)
{
  gsize length = strlen (text);

  if (length < 2 || length > 8 || !g_ascii_islower (text[0]) || !g_ascii_islower (text[1]))
    return FALSE;
  for (const char *p = text; *p != '\0'; p++)
    if (!g_ascii_isalnum (*p) && *p != '_' && *p != '-')
      return FALSE;
  return TRUE;
}

gboolean
tpt_names_editor_check (TptNamesEditor *self, char **reason)
{
  g_autoptr (GHashTable) there = g_hash_table_new (g_str_hash, g_str_equal);

  *reason = NULL;
  for (guint i = 0; *reason == NULL && i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];
      const char *language = get_language (line);

      if (line->language == NULL && *gtk_editable_get_text (line->name) == '\0')
        continue;
      if (!is_code (language))
        *reason = g_strdup_printf (_("“%s” is not the code of a language, such as fr"), language);
      else if (!g_hash_table_add (there, (gpointer) language))
        *reason = g_strdup_printf (_("There are two lines for the language %s"), name_language (language));
    }
  return *reason == NULL;
}
