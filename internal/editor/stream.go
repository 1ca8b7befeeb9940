package editor

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/sourcegraph/jsonrpc2"
)

const (
	// mostMessage is the most bytes one message may have: a sheet of the largest
	// size there is, with every character escaped, and much room.
	mostMessage = 16 << 20
	// mostHeader is the most bytes the header of one message may have.
	mostHeader = 4 << 10
)

// errNoFrame says that what comes in is not framed as messages are; where the
// next one would begin cannot be known.
var errNoFrame = errors.New("what the client sent is not framed as a message")

// stream reads and writes messages, each behind a Content-Length. A message that
// is none of JSON-RPC is answered as the protocol has it, one that is too large
// is passed over, and the next one is read: neither ends the conversation.
//
// Writing never waits for the client: one that is busy writing itself, and reads
// only then, would wait for ever for a server that does the same.
type stream struct {
	in   *bufio.Reader
	pipe io.ReadWriteCloser
	// passedOver tells of a message that was not read.
	passedOver func(why string)
	// giveUp ends the conversation.
	giveUp func(error)

	mu     sync.Mutex
	more   *sync.Cond // out or ending has changed
	out    []byte     // written and not yet sent
	ending bool
	sent   chan struct{} // closed once nothing more is sent
	closed chan struct{} // closed once the pipe is
	once   sync.Once
}

const (
	// mostUnread is how many bytes a client may leave unread.
	mostUnread = 64 << 20
	// lastWords is how long a client has to read what is left when all is over.
	lastWords = time.Second
)

var errUnread = errors.New("the client does not read what it is told")

func newStream(pipe io.ReadWriteCloser, passedOver func(string), giveUp func(error)) *stream {
	s := &stream{in: bufio.NewReader(pipe), pipe: pipe, passedOver: passedOver, giveUp: giveUp, sent: make(chan struct{}), closed: make(chan struct{})}
	s.more = sync.NewCond(&s.mu)
	go s.send()
	return s
}

// WriteObject takes a message to be sent.
func (s *stream) WriteObject(v any) error {
	var b bytes.Buffer
	if err := (jsonrpc2.VSCodeObjectCodec{}).WriteObject(&b, v); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case s.ending:
		return jsonrpc2.ErrClosed
	case len(s.out)+b.Len() > mostUnread:
		s.giveUp(errUnread)
		return errUnread
	}
	s.out = append(s.out, b.Bytes()...)
	s.more.Signal()
	return nil
}

// send sends what is written until all is over and sent, or the client is gone.
func (s *stream) send() {
	defer close(s.sent)
	for {
		s.mu.Lock()
		for len(s.out) == 0 && !s.ending {
			s.more.Wait()
		}
		out := s.out
		s.out = nil
		s.mu.Unlock()
		if len(out) == 0 {
			return
		}
		if _, err := s.pipe.Write(out); err != nil {
			return
		}
	}
}

// Close sends what is left and closes the pipe.
func (s *stream) Close() error {
	s.mu.Lock()
	s.ending = true
	s.more.Signal()
	s.mu.Unlock()
	timer := time.NewTimer(lastWords)
	defer timer.Stop()
	select {
	case <-s.sent:
	case <-timer.C:
	}
	err := s.pipe.Close()
	s.once.Do(func() { close(s.closed) })
	return err
}

// ReadObject reads the next message that is one into v, which is the library's.
func (s *stream) ReadObject(v any) error {
	for {
		length, err := s.header()
		if err != nil {
			if errors.Is(err, errNoFrame) {
				s.giveUp(err)
			}
			return err
		}
		if length > mostMessage {
			if _, err := io.CopyN(io.Discard, s.in, length); err != nil {
				return err
			}
			s.passedOver(fmt.Sprintf("a message of %d MB was passed over; no sheet is that large", length>>20))
			continue
		}
		body, err := readN(s.in, length)
		if err != nil {
			return err
		}
		// A message that fails halfway must leave nothing behind in v.
		whole := reflect.New(reflect.TypeOf(v).Elem())
		if refused := read(body, whole.Interface()); refused != nil {
			if err := s.WriteObject(refused); err != nil {
				return err
			}
			continue
		}
		reflect.ValueOf(v).Elem().Set(whole.Elem())
		return nil
	}
}

// header reads a message's header and is the length of what follows.
func (s *stream) header() (int64, error) {
	length, read := int64(-1), 0
	for {
		line, err := s.in.ReadSlice('\n')
		read += len(line)
		switch {
		case errors.Is(err, bufio.ErrBufferFull) || read > mostHeader:
			return 0, errNoFrame
		case errors.Is(err, io.EOF) && read > 0:
			return 0, io.ErrUnexpectedEOF
		case err != nil:
			return 0, err
		}
		field := strings.TrimRight(string(line), "\r\n")
		if field == "" {
			if length < 0 {
				return 0, errNoFrame
			}
			return length, nil
		}
		name, value, found := strings.Cut(field, ":")
		if !found {
			return 0, errNoFrame
		}
		if strings.EqualFold(strings.TrimSpace(name), "Content-Length") {
			n, err := strconv.ParseInt(strings.TrimSpace(value), 10, 63)
			if err != nil || n < 0 {
				return 0, errNoFrame
			}
			length = n
		}
	}
}

// readN reads n bytes, taking memory only as they come.
func readN(r io.Reader, n int64) ([]byte, error) {
	var b bytes.Buffer
	if _, err := io.CopyN(&b, r, n); err != nil {
		if errors.Is(err, io.EOF) {
			err = io.ErrUnexpectedEOF
		}
		return nil, err
	}
	return b.Bytes(), nil
}

// refusal is the answer to a message that cannot be taken. Its id is null where
// the message's own could not be read.
type refusal struct {
	Version string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Error   jsonrpc2.Error  `json:"error"`
}

// read reads one message into v, or is the answer to what is none.
func read(body []byte, v any) *refusal {
	no := func(id json.RawMessage, code int64, why string) *refusal {
		if id == nil {
			id = json.RawMessage("null")
		}
		return &refusal{"2.0", id, jsonrpc2.Error{Code: code, Message: why}}
	}
	if !json.Valid(body) {
		return no(nil, jsonrpc2.CodeParseError, "this message is not JSON")
	}
	var probe struct {
		ID     json.RawMessage `json:"id"`
		Method *string         `json:"method"`
	}
	if err := json.Unmarshal(body, &probe); err != nil {
		return no(nil, jsonrpc2.CodeInvalidRequest, "this message is no request, no notification and no answer")
	}
	var number int64
	if err := json.Unmarshal(probe.ID, &number); err == nil && number < 0 {
		return no(probe.ID, jsonrpc2.CodeInvalidRequest, "the id of a request is a text or a whole number from 0")
	}
	if err := json.Unmarshal(body, v); err != nil {
		id := probe.ID
		if probe.Method == nil || !isID(id) {
			id = nil
		}
		return no(id, jsonrpc2.CodeInvalidRequest, "this message is no request, no notification and no answer")
	}
	return nil
}

func isID(raw json.RawMessage) bool {
	var text string
	var number int64
	return json.Unmarshal(raw, &text) == nil || json.Unmarshal(raw, &number) == nil
}
