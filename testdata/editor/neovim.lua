-- Drives Neovim, without a screen, as a painter would: opens a sheet, waits for
-- what is told, takes a quick fix and looks whether it helped. What it saw goes
-- line by line into the file named by SEEN; it ends with a status of 1 and the
-- reason when something never came.
--
-- Set from outside: SERVER, the command that serves; SHEET, the file; RULE, the
-- rule whose finding is to be fixed; SEEN.

local seen = assert(io.open(vim.env.SEEN, "w"))
local function say(...) seen:write(table.concat({ ... }, " "), "\n") seen:flush() end
local function stop(why) say("STOPPED", why) vim.cmd("cquit 1") end
local function wait(what, so)
  if not vim.wait(60000, so, 20) then stop("never came: " .. what) end
end

vim.cmd("edit " .. vim.fn.fnameescape(vim.env.SHEET))
local client = vim.lsp.start_client({
  name = "guidecoat",
  cmd = vim.split(vim.env.SERVER, " "),
  root_dir = vim.fn.fnamemodify(vim.env.SHEET, ":h"),
})
if not client then stop("the server could not be started") end
vim.lsp.buf_attach_client(0, client)

local function told(rule)
  return vim.tbl_filter(function(d) return d.code == rule end, vim.diagnostic.get(0))
end
wait("the diagnostic of " .. vim.env.RULE, function() return #told(vim.env.RULE) > 0 end)
local first = told(vim.env.RULE)[1]
say("TOLD", first.source, first.code, vim.diagnostic.severity[first.severity], "line", first.lnum + 1)

vim.api.nvim_win_set_cursor(0, { first.lnum + 1, first.col })
local function ask(method, params)
  local answers, err = vim.lsp.buf_request_sync(0, method, params, 60000)
  if not answers then stop(method .. ": " .. tostring(err)) end
  local answer = answers[client]
  if answer.err then stop(method .. ": " .. answer.err.message) end
  return answer.result
end
local hover = ask("textDocument/hover", vim.lsp.util.make_position_params())
say("HOVER", (hover.contents.value:gsub("\n", " ")))
say("SYMBOLS", #ask("textDocument/documentSymbol", vim.lsp.util.make_text_document_params() and { textDocument = vim.lsp.util.make_text_document_params() }))

vim.ui.select = function(items, _, choose)
  for _, item in ipairs(items) do
    local action = item[2]
    say("OFFERED", action.title)
  end
  choose(items[1], 1)
end
local before = vim.api.nvim_buf_get_changedtick(0)
vim.lsp.buf.code_action()
wait("the edit of the quick fix", function() return vim.api.nvim_buf_get_changedtick(0) ~= before end)
say("CHANGED", "lines", vim.api.nvim_buf_line_count(0))
wait("the diagnostic's going away", function() return #told(vim.env.RULE) == 0 end)
say("GONE", vim.env.RULE, "left", #vim.tbl_filter(function(d) return d.severity <= 2 end, vim.diagnostic.get(0)))

-- Half-typed: completion must still be there.
vim.api.nvim_buf_set_lines(0, -1, -1, false, { "[[step]]", 'do = "sp' })
local last = vim.api.nvim_buf_line_count(0)
vim.api.nvim_win_set_cursor(0, { last, 8 })
local items = ask("textDocument/completion", vim.lsp.util.make_position_params())
local names = vim.tbl_map(function(i) return i.label end, items.items)
say("COMPLETED", vim.tbl_contains(names, "spray") and "spray" or "nothing")

vim.lsp.stop_client(client)
wait("the server's end", function() return vim.lsp.get_client_by_id(client) == nil or vim.lsp.get_client_by_id(client).is_stopped() end)
say("DONE")
vim.cmd("qall!")
